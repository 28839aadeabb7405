"""Nets of any shape: adjusted places, residuals and tests against scipy and pyproj, and the plane as a limit.

No published worked example of a trilateration on the sphere was found, and of one in the plane none whose every figure
can be read in a public page; so these checks are against general-purpose libraries.
"""

import numpy as np
import pytest
from numpy.typing import NDArray
from pyproj import Geod
from scipy.optimize import OptimizeResult, least_squares

from polestitch.sphere.arcs import unit
from polestitch.survey.network import Network, Observed, network

Floats = NDArray[np.float64]
RADIUS_MM, TAPE = 40.0, 0.004
SPHERE = Geod(a=RADIUS_MM, b=RADIUS_MM)
PINS = 9


def longitudes(at: Floats) -> tuple[Floats, Floats]:
    return np.degrees(np.arctan2(at[:, 1], at[:, 0])), np.degrees(np.arcsin(np.clip(at[:, 2], -1, 1)))


def net(seed: int) -> tuple[Floats, list[Observed]]:
    """Random pins, read with unlike care between most pairs, each a little off its place."""
    luck = np.random.default_rng(seed)
    wanted = unit(luck.normal(size=(PINS, 3)))
    at = unit(wanted + luck.normal(0, 0.02, wanted.shape))
    lon, lat = longitudes(at)
    seen = []
    for i in range(PINS):
        for j in range(i + 1, PINS):
            mm = float(SPHERE.inv(lon[i], lat[i], lon[j], lat[j])[2])
            if not 5 < mm < 110 or luck.random() < 0.25:
                continue
            sigma = float(luck.uniform(0.2, 0.8))
            seen.append(Observed((i, j), mm + luck.normal(0, sigma), sigma, (2 * np.pi * RADIUS_MM,)))
    return wanted, seen


def optimum(wanted: Floats, seen: list[Observed]) -> OptimizeResult:
    """scipy's least squares over places and size, distances by pyproj; the first pin stays."""
    aside = np.stack([np.cross(wanted, [0.3, 0.5, 0.8]), np.cross(wanted, [0.8, -0.5, 0.1])], axis=1)
    first, second = (np.array([one.chain[end] for one in seen]) for end in (0, 1))
    mm, sigma = (np.array([getattr(one, name) for one in seen]) for name in ("mm", "sigma_mm"))

    def off(x: Floats) -> Floats:
        shift = np.concatenate([[0, 0], x[:-1]]).reshape(-1, 2)
        lon, lat = longitudes(unit(wanted + np.einsum("nk,nkj->nj", shift, aside)))
        found = SPHERE.inv(lon[first], lat[first], lon[second], lat[second])[2]
        return np.append((np.asarray(found) * x[-1] - mm) / sigma, (x[-1] - 1) / TAPE)

    return least_squares(off, [*np.zeros(2 * PINS - 2), 1.0], xtol=1e-14, ftol=1e-14, gtol=1e-14, x_scale="jac")


def redundancy(best: OptimizeResult) -> Floats:
    """Share of an error of each observation that shows in its residual, from the optimiser's own slopes."""
    return np.asarray(1 - np.einsum("ij,ji->i", best.jac, np.linalg.pinv(best.jac, rcond=1e-7)))


@pytest.mark.slow
@pytest.mark.parametrize("seed", range(12))
def test_any_net_is_adjusted_as_by_a_general_optimiser(seed: int) -> None:
    wanted, seen = net(seed)
    found, best = network(wanted, seen, TAPE, RADIUS_MM), optimum(wanted, seen)
    assert found.open.shape[1] == 1  # everything is known but the turn about the first pin
    assert found.held.residuals / found.held.sigma == pytest.approx(best.fun, abs=2e-5)
    assert found.scale == pytest.approx(float(best.x[-1]), abs=1e-7)
    share = redundancy(best)
    checked = share > 1e-3  # what no other reading checks has no test
    assert found.held.redundancy == pytest.approx(share, abs=1e-5)
    assert found.held.tests[checked] == pytest.approx((best.fun / np.sqrt(share.clip(1e-9)))[checked], abs=2e-3)
    assert found.held.freedom == len(seen) + 1 - (2 * PINS - 2)


# Station U of a plane trilateration; data from memory (Ghilani, *Adjustment Computations*, chapter on trilateration).
KNOWN = np.array([[865.40, 4527.15], [2432.55, 2047.25], [2865.22, 27.15]])
READ = np.array([6049.00, 4736.83, 5446.49])
EARTH, SURE = 6.4e10, 1e-6  # so large a ball is flat over 7 km; known points are read surely


def flat_net() -> Network:
    """The three known stations and U on a ball as good as flat, in their own unit."""
    start = np.vstack([KNOWN, [6861.0, 3728.0]]) - KNOWN[0]
    wanted = unit(np.column_stack([start / EARTH, np.ones(4)]))
    pairs = {(i, j): float(np.hypot(*(KNOWN[i] - KNOWN[j]))) for i, j in ((0, 1), (0, 2), (1, 2))}
    seen = [Observed(pair, mm, SURE, (2 * np.pi * EARTH,)) for pair, mm in pairs.items()]
    seen += [Observed((k, 3), float(mm), 1.0, (2 * np.pi * EARTH,)) for k, mm in enumerate(READ)]
    return network(wanted, seen, 1e-12, EARTH)


def test_on_a_ball_as_good_as_flat_it_is_a_plane_trilateration() -> None:
    plane = least_squares(lambda p: np.hypot(*(p - KNOWN).T) - READ, [6800.0, 3700.0], xtol=1e-14, ftol=1e-14)
    found = flat_net()
    assert found.held.residuals[3:6] == pytest.approx(plane.fun, abs=2e-4)
    share = redundancy(plane)
    assert found.held.redundancy[3:6] == pytest.approx(share, abs=1e-3)
    assert found.held.tests[3:6] == pytest.approx(plane.fun / np.sqrt(share), abs=1e-3)
    assert found.held.freedom == 1  # three distances for two coordinates
