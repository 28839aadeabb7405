import math
from fractions import Fraction
from typing import cast

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from polestitch.ball.ball import Ball
from polestitch.ball.measured import Roundness
from polestitch.marking.address import address
from polestitch.marking.divisions import marked
from polestitch.marking.folds import recipe, to_half_mm
from polestitch.marking.pins import Pin, pin_plan
from polestitch.sphere.arcs import arc_angle

# Exact shares of the circumference: Coxeter's angles over 360 degrees.
EXACT = {"C10": math.degrees(math.atan(2)) / 360, "C6": math.degrees(math.acos(1 / 3)) / 360, "C8": 1 / 8}
DIVISIONS = ["S2", "S5", "S8+obi", "S9", "S64", "C4", "C6", "C8", "C10"]


def combination_pins(division: str, around: float, measured: Roundness | None = None) -> list[Pin]:
    kind = "diamond" if division == "C8" else "centre"
    plan = pin_plan(marked(division), Ball(around), measured)
    return [pin for pin in plan if pin.point.startswith(kind) and pin.measured[0].rule_mm is not None]


@pytest.mark.parametrize("division", DIVISIONS)
def test_every_pin_is_measured_from_pins_already_in(division: str) -> None:
    placed: list[str] = []
    for pin in pin_plan(marked(division), Ball(300)):
        assert {d.point for d in (*pin.measured, *pin.check)} <= set(placed) | ({"N"} if pin.point == "S" else set())
        assert pin.point not in placed
        placed.append(pin.point)
    assert placed[:2] == ["N", "S"]


@pytest.mark.parametrize("division", DIVISIONS)
def test_every_distance_is_the_one_on_the_ball(division: str) -> None:
    marking, ball = marked(division), Ball(300)
    for pin in pin_plan(marking, ball):
        at = address(marking, pin.point, ball).at
        for distance in (*pin.measured, *pin.check):
            exact = ball.mm(float(arc_angle(at, address(marking, distance.point, ball).at)))
            assert distance.mm == pytest.approx(exact)
            assert distance.fraction * 300 == pytest.approx(exact)


@pytest.mark.parametrize(("division", "pins"), [("C10", 10), ("C8", 8), ("C6", 6)])
def test_a_combination_has_the_published_number_of_pins_at_the_exact_distance(division: str, pins: int) -> None:
    # Ten pins in a zigzag (http://temari-thukuri.xyz/2016/03/03/), eight (http://www.temarikai.com/howToPages/
    # 8combinationdiv.html), six (http://www.temarikai.com/Tutorials/C6Tutorial/c6tutorial.html).
    found = combination_pins(division, 300)
    assert len(found) == pins
    assert [pin.measured[0].mm for pin in found] == pytest.approx([300 * EXACT[division]] * pins)


@pytest.mark.parametrize(("around", "rule", "off"), [(200, 35.3333, 0.0917), (240, 42.4, 0.11), (300, 53.0, 0.1375)])
def test_the_c10_rule_stands_beside_the_exact_distance(around: float, rule: float, off: float) -> None:
    # G/6 + G/100: K. Miyazaki's note on K. Urata, Bridges 2016 art gallery; differences computed apart.
    (first, *_) = combination_pins("C10", around)
    assert first.measured[0].rule_mm == pytest.approx(rule, abs=5e-5)
    assert first.measured[0].rule_off_mm == pytest.approx(off, abs=5e-5)


def test_the_c6_rule_gives_the_published_example() -> None:
    # http://www.temarikai.com/Tutorials/C6Tutorial/c6tutorial.html: 24.5 cm gives 4.8 cm.
    (first, *_) = combination_pins("C6", 245)
    assert first.measured[0].rule_mm == pytest.approx(48, abs=0.5)
    assert first.measured[0].half_mm == 48.0


def test_the_c8_rule_is_exact() -> None:
    assert all(abs(cast(float, pin.measured[0].rule_off_mm)) < 1e-9 for pin in combination_pins("C8", 300))


def test_pins_set_by_the_c10_rule_come_out_as_far_apart_as_worked_out_by_hand() -> None:
    # Spherical law of cosines with the pin at 63.6 degrees on a 300 mm ball: ring 52.95, upper to lower ring 52.64 mm.
    polar = math.radians(63.6)
    ring = math.acos(math.cos(polar) ** 2 + math.sin(polar) ** 2 * math.cos(math.radians(72)))
    across = math.acos(-(math.cos(polar) ** 2) + math.sin(polar) ** 2 * math.cos(math.radians(36)))
    expected = {round(300 * gap / (2 * math.pi), 6) for gap in (ring, across)}
    found = {round(cast(float, check.rule_mm), 6) for pin in combination_pins("C10", 300) for check in pin.check}
    assert found == expected
    assert sorted(round(mm, 2) for mm in expected) == [52.64, 52.95]


@pytest.mark.parametrize("division", ["C6", "C10"])
def test_the_last_checks_of_a_combination_come_out_equal_to_the_pin_distance(division: str) -> None:
    *_, last = combination_pins(division, 300)
    assert len(last.check) >= 2
    assert [check.mm for check in last.check] == pytest.approx([last.measured[0].mm] * len(last.check))


def test_a_meridian_that_is_longer_takes_a_longer_pin_distance() -> None:
    measured = Roundness(300, 300, (297.0, 303.0), ())
    by_line = {pin.on: pin.measured[0].mm for pin in pin_plan(marked("S4"), Ball(300), measured)[2:]}
    assert by_line == pytest.approx({"line 1": 74.25, "line 2": 75.75, "line 3": 74.25, "line 4": 75.75})
    south = pin_plan(marked("S4"), Ball(300), measured)[1]
    assert [check.mm for check in south.check] == [148.5, 151.5]
    assert south.measured[0].mm == 150


def test_the_obi_is_measured_with_its_own_length() -> None:
    measured = Roundness(300, 300, (), (306.0,))
    first, second = pin_plan(marked("S3+obi"), Ball(300), measured)[2:4]
    assert second.measured[1].mm == pytest.approx(102)
    assert first.measured[0].mm == pytest.approx(75)


def test_a_distance_across_the_ball_takes_the_mean_of_the_readings() -> None:
    measured = Roundness(300, 302, (300.0, 306.0), (300.0,))
    for pin in combination_pins("C10", 302, measured):
        assert [check.mm for check in pin.check] == pytest.approx([302 * EXACT["C10"]] * len(pin.check))


def test_pins_that_only_help_to_lay_lines_come_out_again() -> None:
    assert all(pin.helper == pin.point.startswith("obi") for pin in pin_plan(marked("S8"), Ball(300)))
    assert not any(pin.helper for pin in pin_plan(marked("S8+obi"), Ball(300)))
    assert sum(pin.helper for pin in pin_plan(marked("C10"), Ball(300))) == 10


@pytest.mark.parametrize(
    ("share", "words"),
    [
        (1 / 4, "fold the strip in 4"),
        (3 / 8, "fold the strip in 8, take 3"),
        (1 / 16, "fold the strip in 16"),
        (1 / 10, "fold the strip in 2, mark each part in 5"),
        (2 / 5, "mark the strip in 5 equal parts, take 2"),
        (1 / 32, "fold the strip in 16, mark each part in 2"),
        (EXACT["C10"], "measure it, or fold 3/16 and take off 3.4 mm"),
        (0.035, "measure it"),  # 8 mm from the nearest fold: no help
    ],
)
def test_a_share_of_the_strip_is_folded_where_it_can_be(share: float, words: str) -> None:
    assert recipe(share, 300) == words


@given(st.integers(1, 63), st.integers(2, 64))
def test_a_fold_recipe_names_the_right_part(count: int, parts: int) -> None:
    share = Fraction(count, parts)
    if share >= 1:
        return
    words = recipe(float(share), 300)
    divided = math.prod(int(word) for word in words.split("take")[0].replace(",", " ").split() if word.isdigit())
    taken = int(words.split("take ")[1]) if "take" in words else 1
    assert Fraction(taken, divided) == share


@given(st.floats(0, 1000))
def test_half_millimetres_are_never_off_by_more_than_a_quarter(mm: float) -> None:
    assert abs(to_half_mm(mm) - mm) <= 0.25 + 1e-9
    assert np.isclose(2 * to_half_mm(mm) % 1, 0)
