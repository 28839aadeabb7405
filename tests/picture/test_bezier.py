"""Projected curves, against the arcs themselves."""

import numpy as np
import pytest

from polestitch.picture.bezier import Curves, paths, visible
from polestitch.picture.view import view_of
from polestitch.sphere.arcs import Points
from tests.laying.hand_laid import Hand, tangle

from .subjects import X, Z

VIEW = view_of(np.array([0.3, -0.4, 0.85]))
CIRCLE_BY_CUBIC = 5e-6  # a cubic for 45 degrees leaves the circle by at most 4.2e-6 of its radius


def on(curves: Curves, u: float) -> Points:
    weights = np.array([(1 - u) ** 3, 3 * u * (1 - u) ** 2, 3 * u**2 * (1 - u), u**3])
    return np.einsum("k,akc->ac", weights, curves.controls)


def test_curves_follow_their_circles() -> None:
    # In view axes the circle n.x = c is (x, y) with depth (c - n_x x - n_y y) / n_z and length one.
    laid = tangle(80)
    curves = paths(laid, VIEW)
    normal, offset = VIEW.seen(laid.normal)[curves.arc], laid.offset[curves.arc]
    for u in (0.1, 0.37, 0.5, 0.8):
        flat = on(curves, u)
        # Distance to the affine circle: its parameters along e1 and e2 must have length one.
        axes = np.stack([VIEW.seen(laid.e1)[curves.arc][:, :2], VIEW.seen(laid.e2)[curves.arc][:, :2]], axis=2)
        good = np.abs(np.linalg.det(axes)) > 0.05
        parts = np.linalg.solve(axes[good], (flat - offset[:, None] * normal[:, :2])[good][:, :, None])[:, :, 0]
        assert np.hypot(*parts.T) == pytest.approx(laid.radius[curves.arc][good], abs=CIRCLE_BY_CUBIC)


def test_what_is_seen_is_the_near_side() -> None:
    laid = tangle(60)
    parts = visible(laid, VIEW)
    shares = np.bincount(parts.arc, parts.end - parts.begin, minlength=len(laid.sweep)) / laid.sweep
    t = (np.arange(4000) + 0.5) / 4000
    for arc, share in enumerate(shares):
        near = VIEW.seen(laid.at(np.full(4000, arc), t * laid.sweep[arc]))[:, 2] > 0
        assert share == pytest.approx(near.mean(), abs=1.1e-3)


def test_clipped_ends_lie_on_the_outline() -> None:
    laid = tangle(60)
    parts = visible(laid, VIEW)
    clipped = np.concatenate([parts.begin[parts.begin > 1e-9], parts.end[parts.end < laid.sweep[parts.arc] - 1e-9]])
    arcs = np.concatenate([parts.arc[parts.begin > 1e-9], parts.arc[parts.end < laid.sweep[parts.arc] - 1e-9]])
    ends = VIEW.seen(laid.at(arcs, clipped))
    assert len(ends) > 20
    assert np.hypot(ends[:, 0], ends[:, 1]) == pytest.approx(1, abs=1e-12)


def test_half_a_great_circle_is_four_pieces_of_half_an_ellipse() -> None:
    curves = paths(Hand().turn(X + Z).laid(), view_of(Z))
    ends = np.concatenate([curves.controls[~curves.joined][:, 0], curves.controls[-1:, 3]])
    assert np.hypot(*curves.controls[:, 0].T).max() == pytest.approx(1)
    # The half axis across the line of sight is 1, the one along it cos 45.
    middle = np.abs(curves.controls[:, :, :]).reshape(-1, 2)
    assert len(ends) >= 2
    assert np.hypot(*middle.T).min() < np.sqrt(0.5) + 0.1


def test_a_chain_is_drawn_in_one_run() -> None:
    lengths = np.array([[1], [1.0000125], [0.99624294]])
    chain = Hand().row(np.array([Z, [0.1, 0, 0.995], [0.15, 0.1, 0.98]]) / lengths, chain=True)
    curves = paths(chain.laid(), view_of(Z))
    assert curves.joined.tolist() == [False, True]
    assert curves.controls[1, 0] == pytest.approx(curves.controls[0, 3], abs=1e-4)


def test_nothing_is_seen_from_behind() -> None:
    hand = Hand().row(np.array([-Z, -Z * np.cos(0.3) + X * np.sin(0.3)]))
    assert len(paths(hand.laid(), view_of(Z)).arc) == 0
