import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from polestitch.ball.measured import ball_of, roundness
from polestitch.document.design import BallSpec
from polestitch.errors import DesignError


def spec(around: str = "240 mm", poles: tuple[str, ...] = (), obi: tuple[str, ...] = ()) -> BallSpec:
    return BallSpec.model_validate({"around": around, "measured": {"pole_to_pole": poles, "obi": obi}})


def test_a_ball_nobody_measured_has_its_planned_size() -> None:
    assert ball_of(spec("24 cm")).around_mm == 240
    assert roundness(spec()).spread_mm == 0
    assert "Measure pole to pole" in roundness(spec()).advice


def test_a_measured_ball_has_the_mean_of_its_readings() -> None:
    measured = roundness(spec("250 mm", ("240 mm", "24.4 cm"), ("236 mm",)))
    assert measured.around_mm == ball_of(spec("250 mm", ("240 mm", "24.4 cm"), ("236 mm",))).around_mm == 240
    assert measured.planned_mm == 250
    assert measured.spread_mm == pytest.approx(8)
    assert measured.spread_percent == pytest.approx(100 * 8 / 240)


@pytest.mark.parametrize(
    ("poles", "obi", "said"),
    [
        (("240 mm", "241 mm"), ("240 mm",), "round enough"),
        (("240 mm", "241 mm"), ("236 mm",), "round the obi and measure"),
        (("236 mm", "241 mm"), ("240 mm",), "over the poles along line 1 and measure"),
        (("241 mm", "236 mm"), ("240 mm",), "90 degrees right of line 1"),
        (("250 mm", "240 mm"), ("240 mm",), "unwind"),
        (("236 mm",), ("240 mm",), "over the poles and measure"),
    ],
)
def test_the_advice_says_where_to_wind_thin_thread(poles: tuple[str, ...], obi: tuple[str, ...], said: str) -> None:
    # Roll, thin wrap where it is thin, unwind, or choose a design that hides it: common advice of makers' help pages.
    assert said in roundness(spec("240 mm", poles, obi)).advice


def test_a_ball_out_of_round_promises_no_more_than_it_can_keep() -> None:
    measured = roundness(spec("240 mm", ("240 mm", "246 mm"), ("234 mm",)))
    assert measured.doubt_mm(60) == pytest.approx(60 * 6 / 240)
    assert "1.5 mm" in measured.caution
    assert roundness(spec()).caution == ""


def test_a_meridian_has_the_length_read_along_it() -> None:
    measured = roundness(spec("240 mm", ("240 mm", "246 mm", "243 mm")))
    for turn, mm in [(0, 240), (60, 246), (120, 243), (180, 240), (30, 243), (150, 241.5), (240, 246)]:
        assert measured.meridian_mm(math.radians(turn)) == pytest.approx(mm)
    assert roundness(spec()).meridian_mm(1.0) == 240
    assert roundness(spec(obi=("238 mm",))).around_obi_mm == 238
    assert roundness(spec(poles=("238 mm",))).around_obi_mm == 238


@given(st.lists(st.integers(200, 300), min_size=1, max_size=6), st.floats(-10, 10))
def test_every_meridian_lies_between_the_readings_and_opposite_meridians_are_one_circle(
    readings: list[int], longitude: float
) -> None:
    measured = roundness(spec("240 mm", tuple(f"{reading} mm" for reading in readings)))
    length = measured.meridian_mm(longitude)
    assert min(readings) - 1e-9 <= length <= max(readings) + 1e-9
    assert measured.meridian_mm(longitude + math.pi) == pytest.approx(length)


@pytest.mark.parametrize("around", ["0 mm", "10000 m", "1 mm", "3.1 m", "1/3 from obi"])
def test_an_impossible_circumference_is_refused(around: str) -> None:
    with pytest.raises(DesignError, match=r"ball\.around"):
        ball_of(spec(around))


def test_readings_that_cannot_be_one_ball_are_refused() -> None:
    with pytest.raises(DesignError, match="cannot both be the way round one ball"):
        ball_of(spec("240 mm", ("240 mm", "76 mm")))
