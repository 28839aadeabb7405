import math
from collections.abc import Mapping

import numpy as np
import pytest

from polestitch.ball.ball import Ball
from polestitch.document.design import Support
from polestitch.errors import DesignError
from polestitch.marking.address import address
from polestitch.marking.arcs import arcs
from polestitch.marking.circles import circles
from polestitch.marking.divisions import marked
from polestitch.marking.marking import Marking
from polestitch.marking.support import supported
from polestitch.marking.where import places
from polestitch.sphere.arcs import Points, arc_angle

Entry = Mapping[str, str | int | list[str]]

BALL = Ball(240)
N = np.array([0.0, 0.0, 1.0])


def with_support(division: str, *entries: Entry) -> Marking:
    return supported(marked(division), tuple(Support.model_validate(entry) for entry in entries), BALL)


def mm(a: Points, b: Points) -> float:
    return BALL.mm(float(arc_angle(a, b)))


def test_a_polygon_has_its_corners_on_the_guidelines_at_the_distance_said() -> None:
    marking = with_support("S10", {"name": "small", "around": "N", "at": "2 cm", "corners": 5})
    corners = places(marking, "all small corners", BALL)
    assert [corner.name for corner in corners] == [f"small {k}" for k in range(1, 6)]
    assert [mm(N, corner.at) for corner in corners] == pytest.approx([20] * 5)
    for corner, line in zip(corners, (1, 3, 5, 7, 9)):
        direction = marking.spokes["N"][line - 1].direction
        assert corner.at @ np.cross(N, direction) == pytest.approx(0, abs=1e-12)
        assert {spoke.end for spoke in corner.spokes} >= {"N", f"obi {line}"}
    # side of a flat-enough regular pentagon: spherical law of cosines, worked apart
    side = math.acos(math.cos(math.pi / 6) ** 2 + math.sin(math.pi / 6) ** 2 * math.cos(math.radians(72)))
    assert mm(corners[0].at, corners[1].at) == pytest.approx(BALL.mm(side))
    assert next(line.name for line in marking.guidelines if line.support) == "small 1-2"


def test_a_ring_keeps_its_distance_and_is_marked_where_guidelines_cross_it() -> None:
    marking = with_support("C10", {"name": "ring", "around": "centre 4", "at": "8 mm"})
    (ring,) = [line for line in marking.guidelines if line.support]
    middle = marking.by_name["centre 4"].at
    assert ring.offset == pytest.approx(math.cos(BALL.angle(8)))
    assert [mm(middle, address(marking, f"ring {k}", BALL).at) for k in range(1, 11)] == pytest.approx([8] * 10)
    assert ring.start @ ring.normal == pytest.approx(ring.offset)


def test_a_ring_by_fraction_takes_it_of_line_1() -> None:
    marking = with_support("S8", {"name": "ring", "around": "N", "at": "1/3 from obi"})
    assert mm(N, address(marking, "ring 2", BALL).at) == pytest.approx(40)


def test_an_oblique_line_joins_corners_of_two_polygons() -> None:
    # Published pattern, S5 with small pentagons 2 cm from the poles and lines from corner k to corner k+1:
    # http://www.temarikai.com/PatternsPages/Simple/SC01.html
    marking = with_support(
        "S5",
        {"name": "top", "around": "N", "at": "2 cm", "corners": 5},
        {"name": "low", "around": "S", "at": "2 cm", "corners": 5},
        {"name": "oblique", "between": ["top 1", "low 2"]},
    )
    (arc,) = arcs(marking, "oblique")
    top, low = address(marking, "top 1", BALL).at, address(marking, "low 2", BALL).at
    assert arc.reach == pytest.approx(float(arc_angle(top, low)))
    assert math.cos(arc.reach) * top + math.sin(arc.reach) * arc.direction == pytest.approx(low)
    assert address(marking, "top 1 to low 2, 1/2", BALL).at[2] == pytest.approx(0, abs=1e-12)


def test_support_lines_change_no_point_number_or_circle_of_the_division() -> None:
    entries: list[Entry] = [
        {"name": "ring", "around": "N", "at": "8 mm"},
        {"name": "across", "between": ["obi 1", "N to obi 2, 1/2"]},
    ]
    plain, marking = marked("S8+obi"), with_support("S8+obi", *entries)
    assert marking.points == plain.points
    assert marking.spokes == plain.spokes
    assert [c.name for c in circles(marking, "all circles")] == [c.name for c in circles(plain, "all circles")]
    assert address(marking, "line 3, 8 mm", BALL).at == pytest.approx(address(marking, "ring 3", BALL).at)


@pytest.mark.parametrize(
    ("entry", "said"),
    [
        ({"name": "obi 3", "around": "N", "at": "2 cm"}, "already names"),
        ({"name": "centre", "around": "N", "at": "2 cm"}, "already names"),
        ({"name": "x", "around": "N", "at": "2 cm", "corners": 3}, "choose 4 or 8 corners"),
        ({"name": "x", "around": "obi 1", "at": "2 cm", "corners": 3}, "choose another spot"),
        ({"name": "x", "around": "N", "at": "7 cm"}, "no distance for a ring"),
        ({"name": "x", "around": "N"}, "needs either"),
        ({"name": "x"}, "needs either"),
        ({"name": "x", "between": ["N", "S"]}, "lie opposite"),
        ({"name": "x", "between": ["N", "N"]}, "same spot"),
        ({"name": "x", "between": ["N", "centre 9"]}, "centres 1 to 2"),
        ({"name": "x", "around": "obi 1 to obi 2, 1/3", "at": "9 mm", "corners": 5}, "choose another spot"),
    ],
)
def test_a_support_line_that_cannot_be_laid_is_refused(entry: Entry, said: str) -> None:
    with pytest.raises(DesignError) as refusal:
        with_support("S8", entry)
    assert refusal.value.where.startswith("marking.support[0]")
    assert said in refusal.value.what


def test_a_ring_round_a_spot_without_guidelines_is_refused() -> None:
    entries: list[Entry] = [
        {"name": "ring", "around": "obi 1 to obi 2, 1/3", "at": "5 mm"},
        {"name": "other", "around": "ring 1", "at": "2 mm"},
    ]
    with pytest.raises(DesignError, match="no guideline passes ring 1"):
        with_support("S8", *entries)


def test_a_line_over_a_pole_is_as_long_as_its_two_halves_and_passes_it() -> None:
    (line,) = arcs(marked("S8"), "obi 2 over N to obi 6")
    assert (line.name, line.start.name, line.end.name) == ("obi 2 over N to obi 6", "obi 2", "obi 6")
    assert BALL.mm(line.reach) == pytest.approx(BALL.around_mm / 2)
    assert line.normal @ N == pytest.approx(0, abs=1e-12)
    assert line.direction @ N == pytest.approx(1)


@pytest.mark.parametrize("where", ["obi 2 over N to obi 5", "obi 1 over N to N", "obi 1 over obi 2 to obi 8"])
def test_a_line_over_a_spot_must_be_straight(where: str) -> None:
    with pytest.raises(DesignError, match="one straight line"):
        arcs(marked("S8+obi"), where)
