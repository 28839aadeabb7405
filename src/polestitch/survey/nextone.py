"""Which distance to read next: the one that makes the marking best known.

In: a network.  Out: pairs of pins, the most telling first.

Each pin's place is given a weak guess of its own (``GUESS_MM``), so that pins nothing is known of can be compared
with others; the gain of a reading is how much smaller the mean variance of all pins becomes
(A-optimal design; one rank-one update a pair).
"""

import numpy as np

from polestitch.sphere.arcs import arc_angle
from polestitch.survey.leastsquares import Numbers
from polestitch.survey.network import GUESS_MM, Network, Observed, legs_of, rows

SHORTEST, LONGEST = 0.15, 2.4  # radians: a strip shorter than this turns, a longer one wanders


def most_telling(
    found: Network, seen: set[frozenset[int]], sigma_mm: float, around_mm: Numbers, count: int = 3
) -> list[tuple[int, int, float]]:
    """Pairs of pins and what their reading would take off the mean error (mm); ``around_mm`` is (n, n)."""
    information = (found.solved.a / found.solved.sigma[:, None]).T @ (found.solved.a / found.solved.sigma[:, None])
    pins = information.shape[0] - 1
    information[np.arange(pins), np.arange(pins)] += GUESS_MM**-2
    covariance = np.linalg.inv(information)
    before = float(np.sqrt(np.trace(covariance[:pins, :pins]) / max(pins // 2, 1)))
    pairs = _pairs(found, seen)
    if not pairs:
        return []
    readings = [Observed(pair, 1.0, sigma_mm, (float(around_mm[pair]),)) for pair in pairs]
    table = rows(found.at, legs_of(readings), found.scale, found.radius_mm, found.wanted)[:-1]
    spread = table @ covariance
    gain = (spread[:, :pins] ** 2).sum(axis=1) / (sigma_mm**2 + np.einsum("ij,ij->i", spread, table))
    after = np.sqrt(np.maximum(before**2 - gain / max(pins // 2, 1), 0))
    best = np.argsort(after, kind="stable")[:count]
    return [(*pairs[k], before - float(after[k])) for k in best]


def _pairs(found: Network, seen: set[frozenset[int]]) -> list[tuple[int, int]]:
    apart = arc_angle(found.at[:, None], found.at[None])
    pairs = np.argwhere(np.triu((apart > SHORTEST) & (apart < LONGEST), 1))
    return [(int(i), int(j)) for i, j in pairs if frozenset((int(i), int(j))) not in seen]
