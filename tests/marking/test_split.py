"""Another number of lines at each pole."""

import math

import pytest

from polestitch.ball.ball import Ball
from polestitch.marking.address import address
from polestitch.marking.divisions import marked
from polestitch.marking.pins import pin_plan
from polestitch.marking.where import places

BALL = Ball(240.0)


@pytest.mark.parametrize(("north", "south"), [(8, 16), (5, 7), (4, 6), (12, 10)])
def test_lines_meet_on_the_obi_where_their_shares_of_the_circle_agree(north: int, south: int) -> None:
    marking = marked(f"S{north}/S{south}")
    on_obi = north + south - math.gcd(north, south)
    assert len(marking.points) == 2 + on_obi
    assert (len(marking.spokes["N"]), len(marking.spokes["S"])) == (north, south)
    assert sum(point.ways == 4 for point in marking.of_kind("obi")) == math.gcd(north, south)
    lengths = sum(line.sweep for line in marking.guidelines)
    assert lengths == pytest.approx((north + south) * math.pi / 2 + 2 * math.pi)
    edges = sum(point.ways for point in marking.points) / 2
    assert marking.triangles == 2 - len(marking.points) + edges  # Euler


def test_lines_of_each_pole_have_their_own_addresses() -> None:
    marking = marked("S8/S16")
    at = address(marking, "line 2 of S, 10 mm", BALL).at
    turn = math.degrees(math.atan2(at[1], at[0]))
    assert turn == pytest.approx(22.5)
    assert math.acos(-at[2]) * BALL.radius_mm == pytest.approx(10.0)
    assert address(marking, "obi 2 of S", BALL).at == pytest.approx(marking.spokes["S"][1].direction)
    assert address(marking, "line 2, 10 mm", BALL).at[2] > 0
    assert [place.name for place in places(marking, "poles", BALL)] == ["N", "S"]


def test_same_number_at_both_poles_is_the_simple_division() -> None:
    assert marked("S8/S8").division == "S8+obi"


def test_every_spot_on_the_obi_gets_a_pin() -> None:
    marking = marked("S8/S12")
    pins = [pin.point for pin in pin_plan(marking, BALL)]
    assert {point.name for point in marking.of_kind("obi")} <= set(pins)
