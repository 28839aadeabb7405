import math
from collections import Counter
from contextlib import suppress

import numpy as np
import pytest
from geographiclib.geodesic import Geodesic
from hypothesis import given
from hypothesis import strategies as st

from polestitch.errors import DesignError
from polestitch.marking.divisions import NAMES, marked
from polestitch.sphere.arcs import Points, arc_angle
from tests.reference.polyhedra import COUNTS, TRIANGLE_SIDES

ROUNDING = 1e-9  # radians


@pytest.mark.parametrize("division", COUNTS)
def test_a_combination_division_has_the_published_points_circles_and_triangles(division: str) -> None:
    ways, circles, triangles = COUNTS[division]
    marking = marked(division)
    assert Counter(point.ways for point in marking.points) == ways
    assert len(marking.guidelines) == circles
    assert marking.triangles == triangles


@pytest.mark.parametrize("division", TRIANGLE_SIDES)
def test_every_stretch_of_guideline_is_a_side_of_the_mirror_triangle(division: str) -> None:
    sides = np.radians(TRIANGLE_SIDES[division])
    reaches = {round(spoke.reach, 9) for spokes in marked(division).spokes.values() for spoke in spokes}
    assert reaches == {round(float(side), 9) for side in sides}


@pytest.mark.parametrize("division", COUNTS)
def test_the_triangles_of_a_combination_cover_the_ball_once(division: str) -> None:
    # Girard: the area of a spherical triangle is its angle sum less pi; all triangles are alike.
    corners = {"C4": (2, 2, 2), "C6": (2, 3, 3), "C8": (2, 3, 4), "C10": (2, 3, 5)}[division]
    excess = sum(math.pi / order for order in corners) - math.pi
    assert marked(division).triangles * excess == pytest.approx(4 * math.pi, rel=1e-14)


@pytest.mark.parametrize("division", [*COUNTS, "S2", "S5", "S8", "S64", "S5+obi", "S8+obi", "S64+obi"])
def test_points_lines_and_triangles_keep_to_euler(division: str) -> None:
    marking = marked(division)
    edges = sum(point.ways for point in marking.points) // 2
    assert len(marking.points) - edges + marking.triangles == 2


@pytest.mark.parametrize("division", NAMES)
def test_every_division_starts_at_n_and_ends_at_s_with_spokes_of_length_one_at_right_angles(division: str) -> None:
    marking = marked(division)
    assert [marking.points[0].name, marking.points[-1].name] == ["N", "S"]
    for name, spokes in marking.spokes.items():
        directions = np.array([spoke.direction for spoke in spokes])
        assert np.linalg.norm(directions, axis=1) == pytest.approx(1, abs=1e-14)
        assert directions @ marking.by_name[name].at == pytest.approx(0, abs=1e-14)
        assert [spoke.number for spoke in spokes] == list(range(1, marking.by_name[name].ways + 1))


@pytest.mark.parametrize("division", [*COUNTS, "S8", "S8+obi", "S7+obi"])
def test_a_spoke_followed_for_its_reach_comes_to_its_end_and_to_nothing_before(division: str) -> None:
    marking = marked(division)
    spots = np.array([point.at for point in marking.by_name.values()])
    for name, spokes in marking.spokes.items():
        start = marking.by_name[name].at
        for spoke in spokes:
            there = math.cos(spoke.reach) * start + math.sin(spoke.reach) * spoke.direction
            assert arc_angle(there, marking.by_name[spoke.end].at) < ROUNDING
            on_line = np.abs(spots @ np.cross(start, spoke.direction)) < ROUNDING
            way = np.arctan2(spots @ spoke.direction, spots @ start)[on_line]
            assert not np.any((way > ROUNDING) & (way < spoke.reach - ROUNDING))


@pytest.mark.parametrize("division", ["C4", "C8"])
def test_a_half_circle_has_the_same_number_at_n_and_at_s(division: str) -> None:
    spokes = marked(division).spokes
    for north, south in zip(spokes["N"], spokes["S"]):
        assert north.direction == pytest.approx(south.direction, abs=ROUNDING)


@pytest.mark.parametrize("division", [*COUNTS, "S8+obi", "S9+obi"])
def test_lines_are_numbered_to_the_right_from_near_the_way_to_n(division: str) -> None:
    # Bearings by an independent route: longitude and latitude of a tangent's tip, taken with geographiclib.
    ball = Geodesic(1, 0)
    marking = marked(division)
    for point in marking.points[1:-1]:
        bearings = []
        for spoke in marking.spokes[point.name]:
            tip = math.cos(0.1) * point.at + math.sin(0.1) * spoke.direction
            line = ball.Inverse(*_lat_lon(point.at), *_lat_lon(tip))
            bearings.append(-line["azi1"] % 360)  # compass bearings run the other way
        turns = [(b - bearings[0]) % 360 for b in bearings]
        assert turns == sorted(turns)
        # The nearest to the way to N, or where that is the other kind of leg the next to its right.
        assert min(bearings[0], 360 - bearings[0]) <= 3 * 180 / point.ways + 1e-6


def _lat_lon(at: Points) -> tuple[float, float]:
    return math.degrees(math.atan2(at[2], math.hypot(at[0], at[1]))), math.degrees(math.atan2(at[1], at[0]))


def test_line_1_of_c10_is_a_short_leg_and_carries_a_centre_behind_it() -> None:
    marking = marked("C10")
    first = marking.spokes["N"][0]
    assert first.direction == pytest.approx([1, 0, 0], abs=ROUNDING)
    assert first.end == "diamond 1"
    assert math.degrees(arc_angle(marking.by_name["N"].at, marking.by_name["centre 2"].at)) == pytest.approx(
        63.4349488229
    )
    assert marking.by_name["centre 2"].at[1] == pytest.approx(0, abs=ROUNDING)


def test_line_1_of_c6_and_c8_heads_for_a_centre() -> None:
    for division in ("C6", "C8"):
        assert marked(division).by_name["centre 2"].at[1] == pytest.approx(0, abs=ROUNDING)
        assert marked(division).by_name["centre 2"].at[0] > 0
    assert marked("C6").spokes["N"][0].end == "centre 2"


def test_c4_is_the_same_as_s4_with_obi() -> None:
    combination, simple = marked("C4"), marked("S4+obi")
    assert combination.xyz == pytest.approx(simple.xyz, abs=ROUNDING)
    assert [point.name for point in combination.points] == [point.name for point in simple.points]
    assert combination.triangles == simple.triangles


def test_kinds_are_numbered_from_n_down_and_then_to_the_right() -> None:
    for division in COUNTS:
        for kind in ("centre", "triangle", "diamond"):
            keys = [
                (-round(p.at[2], 9), round(_lat_lon(p.at)[1] % 360, 6) % 360) for p in marked(division).of_kind(kind)
            ]
            assert keys == sorted(keys)


def test_an_odd_division_has_half_circles_and_an_even_one_whole_ones() -> None:
    assert [line.name for line in marked("S3").guidelines] == ["line 1", "line 2", "line 3"]
    assert [line.name for line in marked("S4+obi").guidelines] == ["line 1-3", "line 2-4", "obi"]
    assert {line.sweep for line in marked("S3").guidelines} == {math.pi}


def test_the_obi_spots_of_a_ball_without_obi_are_named_but_are_no_crossings() -> None:
    marking = marked("S8")
    assert len(marking.points) == 2
    assert [spot.name for spot in marking.places] == [f"obi {k}" for k in range(1, 9)]
    assert {spoke.end for spoke in marking.spokes["N"]} == {spot.name for spot in marking.places}


@pytest.mark.parametrize(("word", "division"), [(" s 12 + OBI", "S12+obi"), ("c10", "C10"), ("S08", "S8")])
def test_spaces_and_case_do_not_matter(word: str, division: str) -> None:
    assert marked(word).division == division


@pytest.mark.parametrize(
    ("word", "said"),
    [
        ("S1", "write S2"),
        ("S65+obi", "write S64+obi"),
        ("C7", "write C6"),
        ("C12", "write C10"),
        ("C8+obi", 'takes no "+obi"'),
        ("42", "not there yet"),
        ("C10/92", "not there yet"),
        ("S12obi", "S12+obi"),
        ("", "write S2 to S64"),
        ("٣", "no division"),
        ("S" + "9" * 40, "there is no division"),
    ],
)
def test_a_division_that_is_not_there_is_refused_with_the_nearest(word: str, said: str) -> None:
    with pytest.raises(DesignError, match=r"marking\.division") as refusal:
        marked(word)
    assert said in refusal.value.what
    assert "\n" not in str(refusal.value)


@given(st.text(max_size=20))
def test_any_word_is_a_division_or_a_sentence(word: str) -> None:
    with suppress(DesignError):
        assert marked(word).division in NAMES


def test_arrays_cannot_be_changed() -> None:
    for division in ("S8", "C8"):
        marking = marked(division)
        arrays = [p.at for p in marking.points] + [s.direction for s in marking.spokes["N"]]
        arrays += [a for line in marking.guidelines for a in (line.normal, line.start)]
        assert not any(array.flags.writeable for array in arrays)


@pytest.mark.parametrize("division", COUNTS)
def test_line_1_is_the_same_kind_of_leg_at_all_points_of_a_kind(division: str) -> None:
    # So that "line 1 of all centres" puts like motifs on like legs: points of a kind are all alike
    # under the group, hence so must be the sequence of legs from line 1 on.
    marking = marked(division)
    for kind in {point.kind for point in marking.points}:
        names = [point.name for point in marking.of_kind(kind)]
        reaches = [[spoke.reach for spoke in marking.spokes[name]] for name in names]
        for reach in reaches:
            assert reach == pytest.approx(reaches[0], abs=ROUNDING)
