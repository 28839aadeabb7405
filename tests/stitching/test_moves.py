"""Rows beside rows: the free step against closed forms."""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.special import ellipkinc

from polestitch.sphere.arcs import toward, unit
from polestitch.stitching.moves import Corners, free_step, growing, leg_sines, station, tip_step
from polestitch.stitching.paths import Path, growing_along
from tests.stitching.sites import site


@pytest.mark.parametrize(("corner_deg", "steps"), [(45.0, 1.41), (54.0, 1.24)])
def test_a_flat_square_steps_1_41_threads_and_a_flat_pentagon_1_24(corner_deg: float, steps: float) -> None:
    # Plane geometry: 1 / sin(half the corner angle); the sphere is flat for one thread.
    gap = 1e-5
    assert free_step(gap, np.sin(np.radians(corner_deg))) / gap == pytest.approx(steps, abs=0.005)


@given(gap=st.floats(1e-4, 0.05), angle=st.floats(0.3, math.pi / 2))
def test_the_free_step_ends_one_thread_from_the_old_leg(gap: float, angle: float) -> None:
    # By construction on the sphere itself: the perpendicular distance to the leg's great circle.
    leg = np.array([math.cos(angle), math.sin(angle), 0.0])
    normal = np.cross([0, 0, 1.0], leg)
    step = float(free_step(gap, np.array(math.sin(angle))))
    new = np.array([math.sin(step), 0.0, math.cos(step)])
    assert abs(math.asin(new @ normal)) == pytest.approx(gap, rel=1e-9)


@settings(max_examples=60, deadline=None)
@given(first=st.floats(0.1, 0.5), last=st.floats(0.55, 0.95), width=st.floats(0.008, 0.06))
def test_square_rows_on_an_octahedral_face_number_what_the_elliptic_integral_says(
    first: float, last: float, width: float
) -> None:
    # Corner angle tan a = 1 / cos r; rows that fit = floor(1 + k - ln(sin a1 / sin a0) / 2) with
    # k = [F(r1 | 1/2) - F(r0 | 1/2)] / (w sqrt 2): derived by integrating dr / dn = w / sin a with
    # its first Euler-Maclaurin term; F from scipy (incomplete elliptic integral, first kind).
    def corner(r: float) -> float:
        return math.atan(1 / math.cos(r))

    k = (ellipkinc(last, 0.5) - ellipkinc(first, 0.5)) / (width * math.sqrt(2))
    expected = 1 + k - 0.5 * math.log(math.sin(corner(last)) / math.sin(corner(first)))
    if abs(expected - round(expected)) < 0.02:
        return  # too near a whole row for the expansion to decide
    square = Corners(np.arange(4) * np.pi / 2, np.full(4, first), (1, 2, 3, 4))
    rows = growing(square, [width] * (int(expected) + 3), site("centre", 2 * math.pi, 4, settings=(1.0, 1e-9)))
    fits = sum(1 for row in rows if math.acos(row.places[0][2]) <= last)
    assert fits == math.floor(expected)


def test_legs_meet_a_square_corner_at_the_angle_spherical_trigonometry_gives() -> None:
    # Right triangle of half the corner: tan(angle) = 1 / cos(r).
    places, _, right = station(np.arange(4) * np.pi / 2, np.full(4, 0.6))
    assert leg_sines(places, right) == pytest.approx(np.full(4, math.sin(math.atan(1 / math.cos(0.6)))))


def test_a_wide_bite_lands_one_thread_outside_the_former_leg() -> None:
    pitch = 0.01
    zigzag = Corners(
        np.arange(16) * np.pi / 8,
        np.tile([1.0, 0.2], 8),
        tuple(range(1, 17)),
        wide=np.tile([False, True], 8),
    )
    one, two = growing(zigzag, [pitch, pitch], site("centre", 200.0, 16))
    leg = unit(np.cross(one.leaves[0], one.enters[1]))
    # The widening is the flat one; on the ball it is a little generous, three per cent at most here.
    assert pitch < abs(np.arcsin(leg @ two.enters[1])) < 1.03 * pitch
    assert toward(one.places[1], two.places[1]) @ one.outward[1] == pytest.approx(1.0)


def test_tips_too_sharp_for_the_free_step_take_the_makers_stretch() -> None:
    ball_site = site("centre", 200.0, 16)
    zigzag = Corners(
        np.arange(16) * np.pi / 8, np.tile([1.0, 0.2], 8), tuple(range(1, 17)), wide=np.tile([False, True], 8)
    )
    one, two = growing(zigzag, [ball_site.ball.angle(0.7)] * 2, ball_site)
    moved = np.arccos(two.places[0][2]) - np.arccos(one.places[0][2])
    assert ball_site.ball.mm(moved) == pytest.approx(2.0)
    assert one.narrow[0]
    assert not one.narrow[1]


@given(gap=st.floats(0.002, 0.03), angle=st.floats(0.01, math.pi / 2), stretch=st.floats(0.001, 0.2))
def test_a_point_takes_more_the_sharper_it_is_but_never_more_than_the_stretch_nor_less_than_a_thread(
    gap: float, angle: float, stretch: float
) -> None:
    sines = np.sin(np.array([angle, angle * 0.99]))
    step, sharper = tip_step(gap, sines, stretch, np.zeros(2, dtype=bool))
    assert gap <= step <= max(gap, stretch)
    assert sharper >= step - 1e-12


@pytest.mark.parametrize(("corner_deg", "free_steps"), [(108, 1.0), (90, 1.0), (75, 1.125), (60, 1.25), (30, 1.25)])
def test_corners_sharper_than_square_take_up_to_a_quarter_more_than_the_free_step(
    corner_deg: float, free_steps: float
) -> None:
    # Our choice by published counts, decision 0174: nothing more at 90 degrees, most at 60, evenly between.
    sine = np.array([math.sin(math.radians(corner_deg / 2))])
    assert tip_step(0.01, sine, 1.0, np.array([False])) == pytest.approx(free_steps * free_step(0.01, sine))
    assert tip_step(0.01, sine, 1.0, np.array([True])) == pytest.approx(free_step(0.01, sine))


@pytest.mark.parametrize("points", [3, 4, 5])
def test_rows_along_a_path_step_as_rows_round_a_centre(points: int) -> None:
    # One rule for both: the same figure drawn as corners on guidelines and as spots of a path.
    around = site("centre", 250.0, points)
    azimuth, first = np.arange(points) * 2 * np.pi / points, np.full(points, 0.3)
    pitches = [around.ball.angle(0.7)] * 6
    places, away, right = station(azimuth, first)
    every, none = np.ones(points, dtype=bool), np.zeros(points, dtype=bool)
    path = Path(places, away, right, tuple(range(1, points + 1)), every, none)
    spokes = tuple(range(1, points + 1))
    for one, other in zip(
        growing(Corners(azimuth, first, spokes), pitches, around), growing_along(path, pitches, around)
    ):
        assert one.places == pytest.approx(other.places, abs=1e-12)
        assert one.step == pytest.approx(other.step)
