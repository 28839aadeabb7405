"""Rules of over and under, one by one: what they ask, what they leave open, where they contradict each other."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from benchmarks.heavy_balls import laid_of, legs
from polestitch.laying.alternating import alternating
from polestitch.laying.crossings import Crossings, crossings
from polestitch.laying.laid import Laid
from polestitch.laying.weave import NONE, UnderRule, over, relation
from polestitch.laying.woven import woven
from polestitch.sphere.arcs import unit
from tests.builds import BAND, KIKU, SQUARE, built
from tests.laying.hand_laid import Hand, scattered
from tests.laying.test_weave import CUBE, PITCH, SIX, X, Y, taken_in_turn, wound


def at(longitude: float, latitude: float) -> np.ndarray:
    u, v = latitude, longitude
    return np.array([np.cos(u) * np.cos(v), np.cos(u) * np.sin(v), np.sin(u)])


def fence(posts: int, rows: int) -> tuple[Laid, Crossings]:
    """Upright threads of layer 0, and rows of layer 1 across them; layer 1 starts at row ``posts``."""
    upright = [legs(at(0.1 * k, -0.3)[None], at(0.1 * k, 0.3)[None], 0, k, 1) for k in range(1, posts + 1)]
    across = [legs(at(0, 0.05 * n)[None], at(1, 0.05 * n)[None], 1, 0, n + 1) for n in range(rows)]
    laid = laid_of(upright + across, PITCH)
    return laid, crossings(laid)


def under_along(laid: Laid, met: Crossings, rule: str, row: int) -> str:
    flags = over(laid, met, (UnderRule(1, 0, rule),))
    return "".join("U" if below else "O" for below in taken_in_turn(laid, met, flags, row))


@pytest.mark.parametrize(
    ("rule", "first", "second"),
    [
        ("under first", "UOUOUOU", "UOUOUOU"),
        ("over first", "OUOUOUO", "OUOUOUO"),
        ("every second", "OUOUOUO", "OUOUOUO"),
        ("pattern OUUO", "OUUOOUU", "OUUOOUU"),
        ("pattern UUO", "UUOUUOU", "UUOUUOU"),
        ("woven", "OUOUOUO", "UOUOUOU"),
        ("all", "UUUUUUU", "UUUUUUU"),
    ],
)
def test_a_rule_reads_along_the_thread(rule: str, first: str, second: str) -> None:
    laid, met = fence(7, 2)
    assert [under_along(laid, met, rule, row) for row in (7, 8)] == [first, second]


def test_a_pattern_counts_bands_and_every_second_counts_threads() -> None:
    laid = wound(X, Y, turns=3)
    met = crossings(laid)
    assert under_along(laid, met, "pattern OU", 3) in ("OOOUUU", "UUUOOO")
    assert under_along(laid, met, "every second", 3) == "OUOUOU"


def test_a_pattern_that_does_not_come_out_even_is_left_open_where_it_comes_home() -> None:
    laid = wound(X, Y, turns=1)  # one turn meets the other twice
    met = crossings(laid)
    even, odd = (relation(laid, met, (UnderRule(1, 0, rule),)) for rule in ("pattern OU", "pattern OUU"))
    assert not even.open.any()
    assert odd.open.sum() == 2


def test_a_later_rule_holds_and_says_what_it_overrules() -> None:
    laid, met = fence(4, 1)
    found = relation(laid, met, (UnderRule(1, 0, "under first"), UnderRule(1, 0, "all")))
    assert not found.over.any()
    assert found.told.tolist() == [1] * 4
    assert sorted(found.against.tolist()) == [NONE, NONE, 0, 0]  # two of four asked for the same
    assert relation(laid, met).told.tolist() == [NONE] * 4


@pytest.mark.parametrize("normals", [np.eye(3), CUBE, SIX, scattered(5, 2), scattered(8, 3)])
@pytest.mark.parametrize("rule", ["woven", "woven bands"])
def test_circles_weave_as_the_chessboard_of_their_faces_says(normals: np.ndarray, rule: str) -> None:
    hand = Hand()
    for normal in normals:
        hand.turn(normal)
    laid = hand.laid()
    met = crossings(laid)
    found = relation(laid, met, (UnderRule(0, 0, rule),))
    board = alternating(normals)
    where = {
        (a, b, *p): o
        for a, b, p, o in zip(
            board.first.tolist(), board.second.tolist(), np.round(board.point, 6).tolist(), board.over.tolist()
        )
    }
    told = np.array(
        [where[a, b, *p] for a, b, p in zip(met.first.tolist(), met.second.tolist(), np.round(met.point, 6).tolist())]
    )
    assert np.all(found.over == told) or np.all(found.over != told)
    assert np.count_nonzero(found.over) * 2 >= len(met)
    assert not found.open.any()


@pytest.mark.slow
@settings(max_examples=25, deadline=None)
@given(st.integers(0, 2**31 - 1), st.integers(3, 6))
def test_any_closed_paths_weave_all_the_way(seed: int, corners: int) -> None:
    # Closed polygons with corners anywhere, crossing themselves too: over and under by turns along every one.
    chance, hand = np.random.default_rng(seed), Hand()
    for _ in range(3):
        points = unit(chance.normal(size=(corners, 3)))
        hand.row(np.concatenate([points, points[:1]]))
    laid = hand.laid()
    met = crossings(laid)
    weave = woven(laid, met, np.arange(len(met)))
    assert not weave.open.any()
    for row in range(3):
        arcs = np.concatenate([met.first, met.second])
        t = np.concatenate([met.t_first, met.t_second])
        below = np.concatenate([weave.over, ~weave.over])
        mine = np.flatnonzero(laid.arc_row[arcs] == row)
        along = below[mine[np.lexsort((t[mine], arcs[mine]))]]
        assert np.all(along != np.roll(along, 1))


def test_layers_weave_together_whoever_names_whom() -> None:
    laid = wound(*np.eye(3), turns=1)
    met = crossings(laid)
    rules = (UnderRule(1, 0, "woven"), UnderRule(2, 0, "woven"), UnderRule(2, 1, "woven"))
    found = relation(laid, met, rules)
    for row in range(3):
        below = taken_in_turn(laid, met, found.over, row)
        assert below in ([True, False] * 2, [False, True] * 2)


def test_bands_of_several_turns_weave_as_bands_or_thread_by_thread() -> None:
    made = {
        rule: built(
            {**BAND, "where": "all equators", "rows": "2 navy", "under": [{"layer": "layer 1", "rule": rule}]},
            division="C8",
        )
        for rule in ("woven bands", "woven")
    }
    bands, threads = made["woven bands"], made["woven"]
    laid, met = bands.laid, bands.crossings
    for row in range(len(laid.row_layer)):
        below = np.array(taken_in_turn(laid, met, bands.over, row))
        assert len(below) == 16  # four turns of two other bands, twice
        assert np.count_nonzero(below != np.roll(below, 1)) == 4
        below = np.array(taken_in_turn(laid, met, threads.over, row))
        assert np.all(below != np.roll(below, 1))
    assert not bands.relation.open.any()
    assert not threads.relation.open.any()


def test_three_threads_in_a_point_cannot_weave_and_are_told() -> None:
    hand = Hand()
    for angle in (0.0, 1.0, 2.0):
        hand.turn(np.array([np.cos(angle), np.sin(angle), 0.0]))
    laid = hand.laid()
    met = crossings(laid)
    assert relation(laid, met, (UnderRule(0, 0, "woven"),)).open.any()


def test_interlocked_motifs_go_under_where_they_enter() -> None:
    squares = {**SQUARE, "where": "all centres", "rows": "2 navy", "params": {"corners": 4, "at": "40 mm"}}
    made = built({**squares, "under": [{"layer": "layer 1", "rule": "interlocked"}]}, division="C8")
    laid, met = made.laid, made.crossings
    strange = np.flatnonzero(laid.row_motif[laid.arc_row[met.first]] != laid.row_motif[laid.arc_row[met.second]])
    assert len(strange) == 12 * 2 * 2 * 2  # 12 pairs of neighbours, two places, two rows by two
    middles = np.stack([motif.middle for motif in made.motifs])
    for k in strange.tolist():
        low, high = (met.first, met.second) if made.over[k] else (met.second, met.first)
        ahead = np.cross(laid.normal[low[k]], met.point[k])
        middle = middles[laid.row_motif[laid.arc_row[high[k]]]]
        assert ahead @ middle > 0


def test_the_right_leg_lies_over_the_left_one_at_every_bite_of_a_kiku() -> None:
    made = built({**KIKU, "rows": "1 navy"})
    laid, met = made.laid, made.crossings
    legs_ = laid.arc_span[np.stack([met.first, met.second])]
    own = np.abs(legs_[0] - legs_[1])
    # Legs that follow each other share a bite; the later is the right one.  Only at the start it is the first leg.
    assert np.array_equal(made.over, own != len(laid.span_row) - 1)
    assert np.count_nonzero(~made.over) == 1
