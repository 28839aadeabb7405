import math

import numpy as np
import pytest
from geographiclib.geodesic import Geodesic
from hypothesis import given
from hypothesis import strategies as st
from scipy.spatial.transform import Rotation

from polestitch.sphere.arcs import Points, arc_angle, between, move, toward
from polestitch.sphere.circles import cap_area, circle_meetings, ring_points, triangle_area
from polestitch.sphere.lines import along, bearings, cross_track, meeting
from polestitch.sphere.rotations import turn_about, turn_onto, turned

BALL = Geodesic(1, 0)
ROUNDING = 1e-12


def lat_lon(latitude: float, longitude: float) -> Points:
    lat, lon = math.radians(latitude), math.radians(longitude)
    return np.array([math.cos(lat) * math.cos(lon), math.cos(lat) * math.sin(lon), math.sin(lat)])


unit_vectors = st.builds(
    lambda z, turn: np.array([math.sqrt(1 - z * z) * math.cos(turn), math.sqrt(1 - z * z) * math.sin(turn), z]),
    st.floats(-1, 1),
    st.floats(0, 2 * math.pi),
)
turns = st.builds(turn_about, unit_vectors, st.floats(-math.pi, math.pi))

LAX, JFK = lat_lon(33 + 57 / 60, -(118 + 24 / 60)), lat_lon(40 + 38 / 60, -(73 + 47 / 60))


def compass(at: Points, tangent: Points) -> float:
    return math.degrees(-float(bearings(at, tangent))) % 360


def test_los_angeles_to_new_york_is_as_in_the_aviation_formulary() -> None:
    # Ed Williams, Aviation Formulary, worked examples: 0.623585 radians, course 66 degrees (1.150035 radians).
    assert arc_angle(LAX, JFK) == pytest.approx(0.623585, abs=1e-6)
    assert math.radians(compass(LAX, toward(LAX, JFK))) == pytest.approx(1.150035, abs=1e-6)


def test_the_point_at_forty_per_cent_is_as_in_the_aviation_formulary() -> None:
    # Same source: 38 40.167' N, 101 37.570' W.
    at = between(LAX, JFK, 0.4)
    assert at == pytest.approx(lat_lon(38 + 40.167 / 60, -(101 + 37.570 / 60)), abs=1e-6)


def test_an_off_course_point_lies_as_far_from_the_track_as_in_the_aviation_formulary() -> None:
    # Same source: 34 30' N 116 30' W is 0.00216747 radians right of the track; its steps are rounded.
    off = lat_lon(34.5, -116.5)
    assert -cross_track(np.cross(LAX, toward(LAX, JFK)), off) == pytest.approx(0.00216747, abs=1e-6)


@pytest.mark.parametrize("row", range(20))
def test_distances_bearings_and_moves_agree_with_geographiclib(row: int) -> None:
    ends = np.random.default_rng(row).uniform([-89, -180, -89, -180], [89, 180, 89, 180])
    line = BALL.Inverse(*ends)
    a, b = lat_lon(*ends[:2]), lat_lon(*ends[2:])
    assert arc_angle(a, b) == pytest.approx(line["s12"], abs=ROUNDING)
    assert compass(a, toward(a, b)) == pytest.approx(line["azi1"] % 360, abs=1e-9)
    there = BALL.Direct(ends[0], ends[1], line["azi1"], 0.7)
    assert move(a, toward(a, b), 0.7) == pytest.approx(lat_lon(there["lat2"], there["lon2"]), abs=ROUNDING)


def test_areas_agree_with_geographiclib_and_with_girard() -> None:
    corners = [(10.0, 20.0), (-5.0, 60.0), (50.0, 75.0)]
    polygon = BALL.Polygon()
    for corner in corners:
        polygon.AddPoint(*corner)
    a, b, c = (lat_lon(*corner) for corner in corners)
    assert triangle_area(a, b, c) == pytest.approx(polygon.Compute()[2], abs=1e-10)
    angles = [math.acos(float(toward(p, q) @ toward(p, r))) for p, q, r in [(a, b, c), (b, c, a), (c, a, b)]]
    assert triangle_area(a, b, c) == pytest.approx(sum(angles) - math.pi, abs=1e-12)
    assert triangle_area(a, c, b) == pytest.approx(-triangle_area(a, b, c))


def test_a_cap_up_to_the_equator_is_half_the_ball() -> None:
    assert cap_area(math.pi / 2) == pytest.approx(2 * math.pi)


@given(unit_vectors, unit_vectors, turns)
def test_turning_the_ball_changes_no_distance(a: Points, b: Points, turn: Points) -> None:
    assert arc_angle(turned(a, turn), turned(b, turn)) == pytest.approx(arc_angle(a, b), abs=1e-12)


@given(unit_vectors, unit_vectors, st.floats(0, 1))
def test_a_point_on_an_arc_splits_its_length(a: Points, b: Points, share: float) -> None:
    whole = float(arc_angle(a, b))
    if not 1e-6 < whole < math.pi - 1e-6:
        return
    at = between(a, b, share)
    assert float(arc_angle(a, at) + arc_angle(at, b)) == pytest.approx(whole, abs=1e-9)


@given(unit_vectors, unit_vectors)
def test_the_shortest_turn_takes_one_point_to_the_other(a: Points, b: Points) -> None:
    turn = turn_onto(a, b)
    assert turned(a, turn) == pytest.approx(b, abs=1e-7)
    assert np.linalg.det(turn) == pytest.approx(1)
    assert turn @ turn.T == pytest.approx(np.eye(3), abs=1e-9)


def test_opposite_points_are_joined_by_a_half_turn() -> None:
    turn = turn_onto(LAX, -LAX)
    assert turned(LAX, turn) == pytest.approx(-LAX)
    assert Rotation.from_matrix(turn).magnitude() == pytest.approx(math.pi)


@pytest.mark.parametrize("row", range(5))
def test_turns_agree_with_scipy(row: int) -> None:
    vector = np.random.default_rng(row).normal(size=3)
    angle = float(np.linalg.norm(vector))
    assert turn_about(vector / angle, angle) == pytest.approx(Rotation.from_rotvec(vector).as_matrix(), abs=ROUNDING)


@given(unit_vectors, st.floats(0.1, 3), unit_vectors, st.floats(0.1, 3))
def test_points_common_to_two_circles_lie_on_both(
    normal: Points, radius: float, other: Points, other_radius: float
) -> None:
    met = circle_meetings(normal, math.cos(radius), other, math.cos(other_radius))
    apart = float(arc_angle(normal, other))
    least, most = abs(radius - other_radius), min(radius + other_radius, 2 * math.pi - radius - other_radius)
    if not 1e-3 < apart < math.pi - 1e-3 or min(abs(apart - least), abs(apart - most)) < 1e-9:
        return  # one axis, or a touch, which rounding decides
    cross = least < apart < most
    assert len(met) == (2 if cross else 0)
    assert arc_angle(met, normal) == pytest.approx(radius, abs=1e-6)
    assert arc_angle(met, other) == pytest.approx(other_radius, abs=1e-6)


def test_circles_with_one_axis_never_cross() -> None:
    assert len(circle_meetings(LAX, 0.1, LAX, 0.2)) == 0


def test_a_ring_keeps_its_distance_and_starts_where_asked() -> None:
    points = ring_points(LAX, 0.3, JFK, np.linspace(0, 6, 9))
    assert arc_angle(points, LAX) == pytest.approx(0.3)
    assert points[0] == pytest.approx(move(LAX, toward(LAX, JFK), 0.3))


def test_a_place_along_a_circle_is_counted_right_handed_and_a_full_round_is_the_start() -> None:
    normal = np.cross(LAX, toward(LAX, JFK))
    spots = np.array([LAX, JFK, LAX - 1e-13 * toward(LAX, JFK)])
    assert along(normal, LAX, spots) == pytest.approx([0, 0.623585, 0], abs=1e-6)


def test_great_circles_meet_on_both() -> None:
    pole = np.array([0.0, 0.0, 1.0])
    assert [meeting(LAX, pole) @ LAX, meeting(LAX, pole) @ pole] == pytest.approx([0, 0], abs=ROUNDING)
