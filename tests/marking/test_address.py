import math
from contextlib import suppress
from fractions import Fraction

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from polestitch.ball.ball import Ball
from polestitch.errors import DesignError
from polestitch.marking.address import address
from polestitch.marking.arcs import arcs
from polestitch.marking.circles import circles
from polestitch.marking.divisions import marked
from polestitch.marking.where import places
from polestitch.sphere.arcs import arc_angle
from tests.reference.polyhedra import EDGES, NEIGHBOURS

BALL = Ball(240)
ROUNDING = 1e-9


def mm_from(division: str, name: str, text: str) -> float:
    marking = marked(division)
    return BALL.mm(float(arc_angle(marking.by_name[name].at, address(marking, text, BALL).at)))


@pytest.mark.parametrize(
    ("division", "text", "name"),
    [
        ("S8", "n", "N"),
        ("S8", "c2", "S"),
        ("S8", "Obi 3", "obi 3"),
        ("S8", "o3", "obi 3"),
        ("C10", "centre 1", "N"),
        ("C10", "center 12", "S"),
        ("C10", "C4", "centre 4"),
        ("C10", " d7 ", "diamond 7"),
        ("C10", "t 2", "triangle 2"),
        ("C8", "obi 1", "centre 2"),
        ("C8", "obi 2", "diamond 5"),
    ],
)
def test_a_point_answers_to_its_name_and_its_short_name(division: str, text: str, name: str) -> None:
    place = address(marked(division), text, BALL)
    assert place.name == name
    assert place.at is marked(division).by_name[name].at


@pytest.mark.parametrize(
    ("text", "mm"),  # a quarter of a 240 mm ball is 60 mm
    [
        ("N to obi 3, 1/3", 20),
        ("from N toward obi 3, 1/3", 20),
        ("N to obi 3, 1/3 from edge", 40),
        ("N to obi 3, 1/3 from obi", 40),
        ("obi 3 to N, 1/3", 40),
        ("obi 3 to N, 1/3 from obi", 40),
        ("line 3, 12 mm", 12),
        ("line 3 of N, 1/2 in", 12.7),
        ("line 3, 1 cm from obi", 50),
        ("line 3, 1/4 from centre", 15),
        ("line 3, 0.25", 15),
        ("line 3 of S, 12 mm", 108),
        ("line 3, 80 mm", 80),
    ],
)
def test_a_length_counts_from_the_end_it_names(text: str, mm: float) -> None:
    for division in ("S8", "S8+obi", "S7"):
        assert mm_from(division, "N", text) == pytest.approx(mm, abs=1e-9)


def test_a_line_of_a_centre_leaves_it_along_its_own_spoke() -> None:
    marking = marked("C10")
    place = address(marking, "line 3 of centre 4, 12 mm", BALL)
    spoke = marking.spokes["centre 4"][2]
    assert mm_from("C10", "centre 4", "line 3 of centre 4, 12 mm") == pytest.approx(12)
    assert place.at @ np.cross(marking.by_name["centre 4"].at, spoke.direction) == pytest.approx(0, abs=ROUNDING)


def test_a_line_of_c10_can_be_counted_from_the_obi_or_from_its_first_point() -> None:
    assert mm_from("C10", "N", "line 1, 1/2 from obi") == pytest.approx(30)
    assert mm_from("C10", "N", "line 1, 1/2") == pytest.approx(240 * 31.7174744115 / 360 / 2)


def test_a_spot_on_a_line_has_two_ways_and_the_first_heads_for_n() -> None:
    spokes = address(marked("S8"), "line 3, 20 mm", BALL).spokes
    assert [(spoke.number, spoke.end) for spoke in spokes] == [(1, "N"), (2, "obi 3")]
    assert [BALL.mm(spoke.reach) for spoke in spokes] == pytest.approx([20, 40])
    assert spokes[0].direction == pytest.approx([0, -math.sqrt(0.75), 0.5])


def test_a_spot_off_the_guidelines_has_the_two_ways_of_its_arc() -> None:
    spokes = address(marked("S8"), "obi 1 to obi 2, 1/3", BALL).spokes
    assert [(spoke.end, round(BALL.mm(spoke.reach), 6)) for spoke in spokes] == [("obi 2", 20), ("obi 1", 10)]
    assert spokes[0].direction @ spokes[1].direction == pytest.approx(-1)


@given(st.integers(0, 61), st.integers(0, 61), st.fractions(0, 1, max_denominator=99))
def test_a_spot_on_an_arc_splits_its_length(first: int, last: int, share: Fraction) -> None:
    marking = marked("C10")
    a, b = marking.points[first], marking.points[last]
    gap = float(arc_angle(a.at, b.at))
    if not 1e-9 < gap < math.pi - 1e-9:
        return
    at = address(marking, f"{a.name} to {b.name}, {share}", BALL).at
    assert float(arc_angle(a.at, at)) == pytest.approx(gap * float(share), abs=1e-12)
    assert float(arc_angle(a.at, at) + arc_angle(at, b.at)) == pytest.approx(gap, abs=1e-12)


@pytest.mark.parametrize(
    ("division", "text", "said"),
    [
        ("C10", "centre 13", "C10 has centres 1 to 12"),
        ("C10", "d0", "diamonds 1 to 30"),
        ("C10", "obi 99", "obi points 1 to 10"),
        ("S8", "triangle 1", "S8 has no triangles"),
        ("S8", "obi 9", "obi points 1 to 8"),
        ("C10", "triangel 2", '"triangle 2"'),
        ("S8", "line 9, 4 mm", "lines 1 to 8"),
        ("S8", "line 3", "say how far along"),
        ("S8", "N to obi 3", "say how far along"),
        ("S8", "N to S, 1/2", "lie opposite"),
        ("S8", "N to N, 1/2", "same spot"),
        ("S8", "N to obi 1, 3 kg", "not a length"),
        ("S8", "N to obi 1, 61 mm", "60.0 mm long"),
        ("S8", "line 1, 1/2 from line", "which end"),
        ("C10", "line 3 of centre 4, 1/2 from obi", "does not end at the obi"),
        ("S8", "obi 3, 4 mm", "is no line"),
        ("S8", "", "nothing is called"),
        ("S8", "N to obi 1, 1/0", "divides by zero"),
    ],
)
def test_an_address_that_is_not_there_is_refused_with_what_is(division: str, text: str, said: str) -> None:
    with pytest.raises(DesignError) as refusal:
        address(marked(division), text, BALL, "layers[0].where")
    assert refusal.value.where == "layers[0].where"
    assert said in refusal.value.what


@given(st.text(max_size=30), st.sampled_from(["S7", "S8+obi", "C6", "C10"]))
def test_any_text_is_a_place_or_a_sentence(text: str, division: str) -> None:
    marking = marked(division)
    for named in (lambda: places(marking, text, BALL), lambda: arcs(marking, text), lambda: circles(marking, text)):
        with suppress(DesignError):
            assert named()


@pytest.mark.parametrize(
    ("division", "where", "names"),
    [
        ("S8", "N and S", ["N", "S"]),
        ("S8", "poles", ["N", "S"]),
        ("S8", "all centres", ["N", "S"]),
        ("S8", ("S", "obi 2"), ["S", "obi 2"]),
        ("S3", "all obi points", ["obi 1", "obi 2", "obi 3"]),
        ("C6", "all obi points", ["obi 1", "obi 2", "obi 3", "obi 4", "obi 5", "obi 6"]),
        ("C10", "centres 1, 3 and 5", ["N", "centre 3", "centre 5"]),
        ("C10", "centres 2 to 4", ["centre 2", "centre 3", "centre 4"]),
        ("C4", "all centres except N and S", ["obi 1", "obi 2", "obi 3", "obi 4"]),
    ],
)
def test_a_layer_s_where_names_its_places_in_order(
    division: str, where: str | tuple[str, ...], names: list[str]
) -> None:
    assert [place.name for place in places(marked(division), where, BALL)] == names


@pytest.mark.parametrize(
    ("division", "kind", "count"), [("C10", "centres", 12), ("C10", "triangles", 20), ("C8", "diamonds", 12)]
)
def test_all_of_a_kind_are_as_many_as_published(division: str, kind: str, count: int) -> None:
    # 12 pentagons, 20 triangles, 12 diamonds of C8: http://www.temarikai.com/HowToPages/10combinationdivIntro.html
    # and http://www.temarikai.com/howToPages/8combinationdiv.html
    assert len(places(marked(division), f"all {kind}", BALL)) == count
    assert len(places(marked(division), "all points", BALL)) == len(marked(division).points)


@pytest.mark.parametrize(
    ("where", "said"),
    [(("c1", "N"), "named twice"), ("all triangles", "no triangles"), ((), "no spot"), ("centres 5 to 2", "smaller")],
)
def test_a_where_that_names_nothing_or_one_spot_twice_is_refused(where: str | tuple[str, ...], said: str) -> None:
    with pytest.raises(DesignError) as refusal:
        places(marked("C6"), where, BALL)
    assert said in refusal.value.what


@pytest.mark.parametrize(("division", "first", "last"), NEIGHBOURS)
def test_neighbours_are_the_edges_of_the_regular_solid(division: str, first: str, last: str) -> None:
    found = arcs(marked(division), f"all {first} to {last}")
    assert len(found) == EDGES[division, first, last]
    assert np.degrees([arc.reach for arc in found]) == pytest.approx(NEIGHBOURS[division, first, last])
    assert len({frozenset((arc.start.name, arc.end.name)) for arc in found}) == len(found)


@pytest.mark.parametrize(
    ("kinds", "side"), [("centre to triangle", 37.3773681406), ("triangle to diamond", 20.9051574479)]
)
def test_legs_of_all_pentagons_are_sixty_of_one_length(kinds: str, side: float) -> None:
    # 12 pentagons with five long legs each, 20 triangles with three half sides each (Coxeter, as above).
    found = arcs(marked("C10"), f"all {kinds}")
    assert np.degrees([arc.reach for arc in found]) == pytest.approx([side] * 60)


@pytest.mark.parametrize(
    ("where", "names"),
    [
        ("line 3", ["line 3"]),
        ("odd lines", ["line 1", "line 3", "line 5", "line 7"]),
        ("even lines", ["line 2", "line 4", "line 6", "line 8"]),
        ("lines 1, 3, 5", ["line 1", "line 3", "line 5"]),
        ("N to obi 2", ["N to obi 2"]),
    ],
)
def test_arcs_are_named_in_order(where: str, names: list[str]) -> None:
    found = arcs(marked("S8"), where)
    assert [arc.name for arc in found] == names
    for arc in found:
        end = math.cos(arc.reach) * arc.start.at + math.sin(arc.reach) * arc.direction
        assert arc_angle(end, arc.end.at) < ROUNDING
        assert arc.normal == pytest.approx(np.cross(arc.start.at, arc.direction))


@pytest.mark.parametrize(
    ("division", "where", "said"),
    [
        ("S8", (), "no line is named"),
        ("S8", "line 12", "lines 1 to 8"),
        ("S8", "all centre to centre", "all lines"),
        ("C6", "all centre to triangle", "no"),
    ],
)
def test_an_arc_that_is_not_there_is_refused(division: str, where: str | tuple[str, ...], said: str) -> None:
    with pytest.raises(DesignError) as refusal:
        arcs(marked(division), where)
    assert said in refusal.value.what


def test_the_obi_is_a_circle_with_or_without_its_own_line() -> None:
    for division in ("S8", "S8+obi", "S7"):
        (obi,) = circles(marked(division), "obi")
        assert obi.normal == pytest.approx([0, 0, 1])
        ways = int(division[1])
        assert [stop.name for stop in obi.stops] == [f"obi {k + 1}" for k in range(ways)]
        assert np.degrees([stop.azimuth for stop in obi.stops]) == pytest.approx([360 * k / ways for k in range(ways)])


@pytest.mark.parametrize(("division", "count"), [("C4", 3), ("C6", 4), ("C8", 3), ("C10", 6), ("S8", 1)])
def test_each_pair_of_centres_has_one_equator(division: str, count: int) -> None:
    found = circles(marked(division), "all equators")
    assert len(found) == count
    normals = np.array([circle.normal for circle in found])
    assert np.abs(normals @ normals.T - np.eye(count))[np.triu_indices(count, 1)].max(initial=0) < 1 - ROUNDING


def test_the_six_equators_of_c10_cross_at_the_thirty_diamonds() -> None:
    # Six great circles make 30 crossings 36 degrees apart: the icosidodecahedron (encyclopedia abstracts, and counted).
    marking = marked("C10")
    met = [stop.name for circle in circles(marking, "all equators") for stop in circle.stops if "diamond" in stop.name]
    assert sorted(met) == sorted([diamond.name for diamond in marking.of_kind("diamond")] * 2)


@pytest.mark.parametrize("division", ["C6", "C8", "C10", "S8+obi"])
def test_a_laid_circle_stops_at_its_marked_points_only(division: str) -> None:
    marking = marked(division)
    for circle in circles(marking, "all circles"):
        on = [point.name for point in marking.points if abs(point.at @ circle.normal) < ROUNDING]
        assert sorted(stop.name for stop in circle.stops) == sorted(on)
        for stop in circle.stops:
            side = np.cross(circle.normal, circle.start)
            at = math.cos(stop.azimuth) * circle.start + math.sin(stop.azimuth) * side
            assert at == pytest.approx(stop.at, abs=ROUNDING)


def test_circles_answer_to_their_names() -> None:
    assert [c.name for c in circles(marked("S8"), ("line 1-5", "line 3"))] == ["line 1-5", "line 3-7"]
    assert len(circles(marked("S8"), "lines")) == 4
    assert len(circles(marked("C10"), "lines")) == 5
    assert circles(marked("C10"), "circle 3")[0].name == "circle 3"
    assert circles(marked("C10"), "equator of centre 3")[0].normal @ marked("C10").by_name["centre 3"].at > 1 - ROUNDING


@pytest.mark.parametrize(
    ("division", "where", "said"),
    [
        ("S7", "lines", '"obi"'),
        ("S7", "line 3", "no circle"),
        ("C10", "circle 16", '"circle 1'),
        ("C10", (), "no circle"),
    ],
)
def test_a_circle_that_is_not_there_is_refused(division: str, where: str | tuple[str, ...], said: str) -> None:
    with pytest.raises(DesignError) as refusal:
        circles(marked(division), where)
    assert said in refusal.value.what


def test_a_set_of_lines_that_is_none_offers_the_sets_there_are() -> None:
    with pytest.raises(DesignError, match=r'"all edges" names no lines; write "all lines".*"all centre to centre"'):
        arcs(marked("C6"), "all edges")
