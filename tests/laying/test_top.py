"""The top thread, against plain searches and closed forms."""

import numpy as np
import pytest
from numpy.typing import NDArray

from polestitch.laying.crossings import crossings
from polestitch.laying.laid import Laid
from polestitch.laying.top import reversals, top
from polestitch.sphere.arcs import Points, arc_angle, unit

from .hand_laid import Hand, scattered, tangle

X, Y, Z = np.eye(3)


def covers(laid: Laid, arc: int, points: Points) -> NDArray[np.bool_]:
    """Which points one arc's thread covers, by distance to the arc: the definition, tried point by point."""
    half = laid.row_pitch[laid.arc_row[arc]] / 2
    arcs = np.full(len(points), arc)
    t = laid.t_of(arcs, points)
    aside = np.abs(np.arcsin(points @ laid.normal[arc]) - np.arcsin(laid.offset[arc])) <= half
    ends = laid.at(np.array([arc, arc]), np.array([0.0, laid.sweep[arc]]))
    near_end = (arc_angle(points, ends[0]) <= half) | (arc_angle(points, ends[1]) <= half)
    return aside & ((t <= laid.sweep[arc]) | near_end | (laid.sweep[arc] > 6.28))


def test_one_band_is_known_everywhere_on_it() -> None:
    laid = Hand(pitch=0.1).turn(Z).laid()
    latitude = 0.03
    points = np.array([[np.cos(latitude), 0, np.sin(latitude)], Z, [np.cos(0.06), 0, np.sin(0.06)]])
    found = top(laid, points)
    assert found.arc.tolist() == [0, -1, -1]
    assert found.offset[0] == pytest.approx(latitude / 0.05)
    assert found.direction[0] == pytest.approx(Y, abs=1e-12)
    assert found.layers.tolist() == [1, 0, 0]


def test_along_counts_from_the_start_of_the_arc() -> None:
    laid = Hand(pitch=0.1).row(np.array([X, Y])).laid()
    places = np.array([0.3, 1.2, -0.02])
    points = np.stack([np.cos(places), np.sin(places), 0 * places], axis=1)
    assert top(laid, points).along == pytest.approx(places)


def test_a_great_circle_band_covers_the_sine_of_its_half_width() -> None:
    # Archimedes' hat box: the zone between latitudes -w and w has 2 pi * 2 sin w of 4 pi.
    w = 0.2
    laid = Hand(pitch=2 * w).turn(np.array([0.2, -0.5, 0.7])).laid()
    points = scattered(40_000)
    share = (top(laid, points).arc >= 0).mean()
    assert share == pytest.approx(np.sin(w), abs=4 * np.sqrt(np.sin(w) / 40_000))


@pytest.mark.parametrize("seed", [3, 4])
def test_top_and_layers_agree_with_trying_every_arc(seed: int) -> None:
    laid = tangle(60, seed)
    points = np.concatenate([scattered(3000, seed), np.eye(3), -np.eye(3)])
    covered = np.array([covers(laid, arc, points) for arc in range(len(laid.normal))])
    last = np.where(covered.any(0), len(covered) - 1 - covered[::-1].argmax(0), -1)
    found = top(laid, points)
    assert found.arc.tolist() == last.tolist()
    assert found.layers.tolist() == covered.sum(0).tolist()


def three_bands() -> Laid:
    return Hand(pitch=0.2).turn(X).turn(Y).turn(Z).laid()


def test_over_and_under_may_go_in_a_ring() -> None:
    # Bands about x, y, z meet in pairs; y over x and z over y as laid, but x over z at both their crossings.
    laid = three_bands()
    met = crossings(laid)
    over = ~((met.first == 0) & (met.second == 2))
    points = np.concatenate([np.eye(3), -np.eye(3)])
    found = top(laid, points, reversals(met, over))
    # At z the bands about x and y cross, at x those about y and z, at y those about x and z.
    assert found.arc.tolist() == [2, 0, 1, 2, 0, 1]


def test_the_nearest_crossing_decides_where_a_pair_crosses_twice() -> None:
    laid = three_bands()
    met = crossings(laid)
    over = ~((met.first == 0) & (met.second == 1) & (met.point[:, 2] > 0))
    assert (~over).sum() == 1
    found = top(laid, unit(np.array([[0.05, 0.03, 1], [0.05, 0.03, -1]])), reversals(met, over))
    assert found.arc.tolist() == [0, 1]


def test_who_is_over_all_others_wins_even_from_the_middle() -> None:
    # Three bands through one place: the second lies over the third there, so it wins over both.
    laid = (
        Hand(pitch=0.2)
        .turn(np.array([1, 0, 0.01]))
        .turn(np.array([0.5, 0.8, 0]))
        .turn(np.array([-0.5, 0.8, 0.01]))
        .laid()
    )
    met = crossings(laid)
    over = ~((met.first == 1) & (met.second == 2))
    found = top(laid, np.array([Z]), reversals(met, over))
    assert found.layers[0] == 3
    assert found.arc[0] == 1


def test_a_chain_is_one_thread_at_its_joint() -> None:
    # The crossing lies on the first arc of the chain, the asked point beside the second.
    corner = unit(np.array([1.0, 0.0, 0.05]))
    hand = Hand(pitch=0.2).turn(Y)
    laid = hand.row(
        np.array([unit(np.array([1.0, -1, 0.0])), corner, unit(np.array([1.0, 1, 0.4]))]), chain=True
    ).laid()
    met = crossings(laid)
    assert len(met) == 1
    beside = unit(corner + np.array([0, 0.03, 0.01]))
    assert top(laid, beside[None], reversals(met, np.array([True]))).arc[0] > 0
    assert top(laid, beside[None], reversals(met, np.array([False]))).arc[0] == 0


def test_laying_order_needs_no_reversals() -> None:
    met = crossings(three_bands())
    assert reversals(met, np.ones(len(met), dtype=bool)) is None


def test_a_bare_ball_has_nothing_on_top() -> None:
    found = top(Hand().laid(), np.eye(3))
    assert found.arc.tolist() == [-1, -1, -1]
    assert found.layers.tolist() == [0, 0, 0]
