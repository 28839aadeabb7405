"""Over and under: the default, the rules, what a needle must pass, and the alternating weave."""

from dataclasses import replace
from typing import Literal

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from benchmarks.heavy_balls import band, bands, icosahedron, laid_of, legs
from polestitch.errors import DesignError
from polestitch.laying.alternating import alternating
from polestitch.laying.crossings import Crossings, crossings
from polestitch.laying.laid import Laid
from polestitch.laying.order import stitching_order
from polestitch.laying.weave import UnderRule, closing, over, passes
from polestitch.sphere.arcs import Points, move, toward, unit
from tests.builds import SQUARE, built
from tests.laying.hand_laid import scattered, tangle

Rule = Literal["all", "under first", "over first"]
PITCH = 0.0157
X, Y, Z = np.eye(3)
CUBE = unit(np.array([[1.0, 1, 1], [1, 1, -1], [1, -1, 1], [-1, 1, 1]]))
SIX = np.array([p for k, p in enumerate(icosahedron()) if not np.any(icosahedron()[:k] @ p < -0.99)])


def wound(*normals: Points, turns: int = 4) -> Laid:
    """One band a layer."""
    return laid_of([t for layer, n in enumerate(normals) for t in band(n, turns, PITCH, layer, 0)], PITCH)


def taken_in_turn(laid: Laid, found: Crossings, flags: np.ndarray, row: int) -> list[bool]:
    """Whether ``row`` lies below, crossing by crossing along its thread."""
    first, second = laid.arc_row[found.first] == row, laid.arc_row[found.second] == row
    t = np.where(second, found.t_second, found.t_first) + 10.0 * np.where(second, found.second, found.first)
    under = np.where(second, ~flags, flags)
    met = first | second
    return under[met][np.argsort(t[met])].tolist()


def test_the_later_thread_lies_over_unless_told_otherwise() -> None:
    laid = tangle(60)
    assert np.all(over(laid, crossings(laid)))


def test_all_puts_a_layer_under_another_and_leaves_the_rest() -> None:
    laid = wound(X, Y, Z)
    found = crossings(laid)
    flags = over(laid, found, (UnderRule(2, 0, "all"),))
    layers = laid.row_layer[laid.arc_row]
    one, two = layers[found.first], layers[found.second]
    assert np.array_equal(flags, ~((one == 0) & (two == 2)))
    assert np.count_nonzero(~flags) == 2 * 4 * 4


def test_a_rule_for_threads_that_never_meet_changes_nothing() -> None:
    laid = laid_of([*band(Z, 2, PITCH, 0, 0), *band(Z, 2, 3 * PITCH, 1, 0)], PITCH)
    assert over(laid, crossings(laid), (UnderRule(1, 0, "under first"),)).tolist() == []


def test_an_earlier_layer_can_be_sent_under_a_later_one() -> None:
    laid = wound(X, Y)
    found = crossings(laid)
    assert np.all(over(laid, found, (UnderRule(0, 1, "all"),)))
    flags = over(laid, found, (UnderRule(1, 0, "all"), UnderRule(0, 1, "all")))
    assert np.all(flags)  # the later rule holds


@pytest.mark.parametrize("rule", ["under first", "over first"])
def test_bands_go_under_and_over_group_by_group(rule: Rule) -> None:
    laid = wound(X, Y, turns=5)
    found = crossings(laid)
    flags = over(laid, found, (UnderRule(1, 0, rule),))
    # Two groups of 5 x 5: at one pole all under, at the other all over, whichever turn starts inside a group.
    north = found.point[:, 2] > 0
    assert len(set(flags[north].tolist())) == len(set(flags[~north].tolist())) == 1
    assert flags[north][0] != flags[~north][0]
    lead = taken_in_turn(laid, found, flags, 5)
    assert lead[0] == (rule == "under first")


@pytest.mark.parametrize("aside", [-0.03, -0.01, 0.0, 0.01, 0.03])
def test_turns_that_start_inside_a_group_take_it_as_one(aside: float) -> None:
    # The second band starts in the middle of the first, over the pole, each of its turns a little elsewhere.
    trips = []
    for number, trip in enumerate(band(Y, 5, PITCH, 1, 0)):
        start = move(Y, toward(Y, unit(Z + (aside + 0.004 * number) * X)), float(np.arccos(trip.offset[0])))
        trips.append(replace(trip, start=start[None]))
    laid = laid_of([*band(X, 5, PITCH, 0, 0), *trips], PITCH)
    found = crossings(laid)
    flags = over(laid, found, (UnderRule(1, 0, "under first"),))
    north = found.point[:, 2] > 0
    assert len(set(flags[north].tolist())) == len(set(flags[~north].tolist())) == 1
    assert flags[north][0] != flags[~north][0]


def test_the_two_alternate_rules_are_opposite_everywhere() -> None:
    laid = wound(*SIX[:4], turns=3)
    found = crossings(laid)
    one, two = (over(laid, found, (UnderRule(3, 1, rule),)) for rule in ("under first", "over first"))
    layers = laid.row_layer[laid.arc_row]
    ruled = (layers[found.first] == 1) & (layers[found.second] == 3)
    assert np.array_equal(one != two, ruled)


def test_a_leg_alternates_bundle_by_bundle_from_where_it_starts() -> None:
    # Three posts of three threads each, crossed by two rows: u u u o o o u u u.
    posts = []
    for number in range(3):
        for post, longitude in enumerate((0.2, 0.5, 0.8)):
            foot = longitude + 0.03 * number
            ends = [np.array([np.cos(u) * np.cos(foot), np.cos(u) * np.sin(foot), np.sin(u)]) for u in (-0.3, 0.3)]
            posts.append(legs(ends[0][None], ends[1][None], 0, post, number + 1))
    rows = []
    for number, u in enumerate((0.0, 0.05)):
        ends = [np.array([np.cos(u) * np.cos(v), np.cos(u) * np.sin(v), np.sin(u)]) for v in (0.0, 1.0)]
        rows.append(legs(ends[0][None], ends[1][None], 1, 0, number + 1))
    laid = laid_of(posts + rows, PITCH)
    found = crossings(laid)
    flags = over(laid, found, (UnderRule(1, 0, "under first"),))
    for row in (9, 10):
        assert taken_in_turn(laid, found, flags, row) == [True] * 3 + [False] * 3 + [True] * 3
    needle = passes(laid, found, flags)
    assert needle.passes[9:].tolist() == [2, 2]
    assert needle.crossings[9:].tolist() == [6, 6]
    assert needle.passes[:9].sum() == 0


@given(st.integers(0, 2**32 - 1), st.sampled_from(["all", "under first", "over first"]))
def test_over_and_under_do_not_depend_on_the_side_one_looks_from(seed: int, rule: Rule) -> None:
    # Of two layers exactly one lies over at each crossing, and laying them the other way round with the
    # same rule changes nothing about which (antisymmetry).
    normals = scattered(2, seed)
    one, two = (list(band(n, 3, PITCH, layer, 0)) for layer, n in enumerate(normals))
    tops = []
    for trips in (one + two, two + one):
        laid = laid_of(trips, PITCH)
        found = crossings(laid)
        flags = over(laid, found, (UnderRule(1, 0, rule),))
        upper = laid.row_layer[laid.arc_row[np.where(flags, found.second, found.first)]]
        tops.append(dict(zip(map(tuple, np.round(found.point, 6).tolist()), upper.tolist())))
    assert tops[0] == tops[1]


def test_without_rules_the_given_order_needs_no_needle() -> None:
    laid = tangle(40)
    found = crossings(laid)
    flags = over(laid, found)
    assert stitching_order(laid, found, flags).threads == tuple(range(40))
    assert passes(laid, found, flags).passes.sum() == 0


# 3 circles 2 of 6, 4 circles 6 of 12, 6 circles 15 of 30: counted once by the prototype of this model.
@pytest.mark.parametrize(
    ("normals", "met", "unders"),
    [(scattered(2), 2, 1), (np.eye(3), 6, 2), (CUBE, 12, 6), (SIX, 30, 15), (scattered(7, 4), 42, None)],
)
def test_great_circles_weave_over_and_under_in_turn(normals: Points, met: int, unders: int | None) -> None:
    for flipped in (False, True):
        weave = alternating(normals, flipped)
        assert len(weave.over) == met
        if unders is not None:
            assert weave.unders == (met - unders if flipped else unders)
        for k, normal in enumerate(normals):
            mine = (weave.first == k) | (weave.second == k)
            e1 = toward(normal, unit(np.array([0.3, 0.5, 0.8])))
            around = np.arctan2(weave.point[mine] @ np.cross(normal, e1), weave.point[mine] @ e1)
            top = np.where(weave.second == k, weave.over, ~weave.over)[mine][np.argsort(around)]
            assert np.all(top != np.roll(top, 1))


@pytest.mark.parametrize("count", [4, 5, 6, 7])
def test_an_even_number_of_circles_shares_the_top_pair_by_pair(count: int) -> None:
    weave = alternating(scattered(count, 5))
    there, opposite = np.split(weave.over, 2)
    assert np.array_equal(there, ~opposite if count % 2 == 0 else opposite)


def test_the_weave_lies_at_the_crossings_of_the_laid_circles() -> None:
    weave, found = alternating(SIX), crossings(laid_of(bands(SIX, 1, PITCH), PITCH))
    places = {tuple(p) for p in np.round(found.point, 9).tolist()}
    assert {tuple(p) for p in np.round(weave.point, 9).tolist()} == places


def test_three_circles_through_a_point_have_no_weave() -> None:
    with pytest.raises(DesignError, match="one point"):
        alternating(np.array([X, Y, unit(X + Y)]))


def runs_below(laid: Laid, found: Crossings, flags: np.ndarray, row: int) -> int:
    """Runs of crossings under earlier thread along ``row``, told one by one; where it closes is not asked."""
    arcs = np.flatnonzero(laid.arc_row == row)
    first, last = laid.arc_span[arcs[0]], laid.arc_span[arcs[-1]]
    met = sorted(
        (int(two), float(t), bool(over_))
        for one, two, t, over_ in zip(found.first, found.second, found.t_second, flags)
        if laid.arc_row[two] == row and (laid.arc_span[one], laid.arc_span[two]) != (first, last)
    )
    below = [not over_ for _, _, over_ in met]
    return sum(now and not before for before, now in zip([False, *below], below))


def test_drawing_in_the_bite_that_closes_a_row_is_no_pass_of_the_needle() -> None:
    made = built({**SQUARE, "rows": "4 navy"})
    # Four rows, and where each closes its last leg is drawn in under its first: nothing else lies under anything.
    assert np.count_nonzero(~made.over) == np.count_nonzero(closing(made.laid, made.crossings)) == 4
    needle = passes(made.laid, made.crossings, made.over)
    assert needle.passes.tolist() == needle.crossings.tolist() == [0, 0, 0, 0]


@pytest.mark.parametrize("rule", ["all", "under first", "over first"])
def test_passes_are_counted_beside_the_bite_that_closes(rule: str) -> None:
    later = {**SQUARE, "params": {"corners": 8, "at": "14 mm"}, "under": [{"layer": "layer 1", "rule": rule}]}
    made = built(SQUARE, later)
    assert np.count_nonzero(closing(made.laid, made.crossings)) == 8
    needle = passes(made.laid, made.crossings, made.over)
    by_hand = [runs_below(made.laid, made.crossings, made.over, row) for row in range(8)]
    assert needle.passes.tolist() == by_hand
    assert sum(by_hand) > 0
