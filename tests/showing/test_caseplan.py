"""Balls in a case: placed as given or evenly, measured again with plain geometry."""

import math
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from polestitch.showing.caseplan import Ball, case_plans, spread
from polestitch.showing.exhibition import Exhibition
from tests.showing.harbour import BALLS, record, show

CASE = {"name": "Case", "width": "60 cm", "depth": "30 cm", "shelves": [{"clear": "12 cm", "from_floor": "1 m"}]}


def on_a_shelf(*places: dict[str, object]) -> Exhibition:
    """Balls one after another on a shelf of 600 mm, placed so."""
    shown = [{"number": f"HL-{k:02d}", "case": "Case", **place} for k, place in enumerate(places, 1)]
    return show(cases=[CASE], shown=shown, records=[record(k) for k in range(len(places))])


def test_a_ball_is_the_sphere_of_its_circumference() -> None:
    shelf = case_plans(show())[0].shelves[0]
    assert [ball.diameter for ball in shelf.balls] == pytest.approx([around / math.pi for *_, around in BALLS[:4]])
    assert shelf.balls[0].up == pytest.approx(15 + 310 / math.pi / 2)


def test_spread_evenly_by_hand() -> None:
    # 1000 mm less 100 + 200 + 100 leaves 600 for four gaps of 150: middles at 200, 500 and 800.
    assert spread([100, 200, 100], [None, None, None], 1000) == pytest.approx([200, 500, 800])
    # One given in the middle: 450 mm are free on each side of it, and the others stand in the middle of these.
    assert spread([100, 100, 100], [None, 500, None], 1000) == pytest.approx([225, 500, 775])


@given(
    st.lists(st.floats(10, 100), min_size=1, max_size=8),
    st.floats(1000, 3000),
)
def test_spread_leaves_the_same_gap_everywhere(across: list[float], width: float) -> None:
    xs = spread(across, [None] * len(across), width)
    edges = [0.0, *(edge for x, d in zip(xs, across, strict=True) for edge in (x - d / 2, x + d / 2)), width]
    gaps = [right - left for left, right in zip(edges[0::2], edges[1::2], strict=True)]
    assert gaps == pytest.approx([(width - sum(across)) / (len(across) + 1)] * len(gaps))


def test_gaps_are_between_the_balls_not_their_shadows() -> None:
    one, other = (Ball("a", "", x, back, up, 100, 0, "", "") for x, back, up in ((0, 0, 50), (30, 40, 170)))
    assert one.gap_to(other) == pytest.approx(math.sqrt(30**2 + 40**2 + 120**2) - 100)  # 130 - 100


def test_what_does_not_fit_is_told_in_mm() -> None:
    # 310 mm round is 98.7 mm across: on a stand of 40 mm it needs 139 of the 120 mm there are.
    found = case_plans(on_a_shelf({"at": "30 cm", "stand": "40 mm"}))[0].findings
    assert found == ("HL-01 is 19 mm too high for shelf 1: with its stand it needs 139 mm, and 120 mm are free.",)
    # Middles 60 mm apart, radii 49.3 and 44.6: the taller one's middle is 4.8 mm higher, so 33.7 mm in each other.
    (told,) = case_plans(on_a_shelf({"at": "20 cm"}, {"at": "26 cm"}))[0].findings
    assert told == "HL-01 and HL-02 on shelf 1 would overlap by 34 mm; move one."
    (told,) = case_plans(on_a_shelf({"at": "3 cm"}))[0].findings
    assert told == "HL-01 on shelf 1 would stand 19 mm out of the case's side; move it."
    (told,) = case_plans(on_a_shelf({"back": "29 cm"}))[0].findings
    assert told == "HL-01 on shelf 1 would stand 39 mm out of the case's back or front; move it."


def test_a_full_shelf_overlaps_and_says_so() -> None:
    plan = case_plans(on_a_shelf(*({} for _ in range(8))))[0]  # 721 mm of balls on 600 mm
    assert len(plan.findings) == 7 + 2  # seven pairs of neighbours, and the outer two beyond the sides
    assert [left.x < right.x for left, right in pairwise(plan.shelves[0].balls)] == [True] * 7


def test_a_piece_without_size_is_not_drawn() -> None:
    bare = {"number": "HL-01", "title": "Ferry Lamps"}
    made = show(cases=[CASE], shown=[{"number": "HL-01", "case": "Case"}], records=[bare])
    plan = case_plans(made)[0]
    assert plan.unsized == ("HL-01",)
    assert plan.shelves[0].balls == ()
