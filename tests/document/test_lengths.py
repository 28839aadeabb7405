"""Lengths and colours as a maker writes them, and the sizes a ball can have."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from polestitch.document.colours import Colour
from polestitch.document.lengths import Length
from polestitch.document.limits import LARGEST_AROUND_MM, SMALLEST_AROUND_MM, WORKING_LENGTH, around_mm, plain_mm
from polestitch.errors import DesignError
from tests.strategies import lengths


# An inch is 25.4 mm and a yard 0.9144 m by definition (international yard, 1959).
@pytest.mark.parametrize(
    ("text", "mm"),
    [
        ("12 mm", 12),
        ("1.2cm", 12),
        ("1 m", 1000),
        ("1/2 in", 12.7),
        ("1 1/2 in", 38.1),
        ("1 yd", 914.4),
        (".5 mm", 0.5),
    ],
)
def test_lengths_turn_into_millimetres(text: str, mm: float) -> None:
    assert Length(text).mm == pytest.approx(mm)


def test_a_fraction_has_no_millimetres_but_an_origin() -> None:
    third = Length("1/3 from the obi")
    assert (third.mm, third.origin) == (None, "obi")
    assert third.value == pytest.approx(1 / 3)


@pytest.mark.parametrize(
    "text", ["", "mm", "5", "1/3", "5 furlongs", "1/0 mm", "-5 mm", "nan mm", "5 mm from moon", "9" * 99]
)
def test_what_is_no_length_is_refused_with_the_remedy(text: str) -> None:
    with pytest.raises(ValueError, match=r"write it like|one of centre, edge, obi, line"):
        Length(text)


@given(lengths())
def test_a_length_keeps_its_words(length: Length) -> None:
    assert Length(str(length)) == length
    assert hash(Length(str(length))) == hash(length)
    assert repr(length) == f"Length({str(length)!r})"
    assert length != str(length)


@pytest.mark.parametrize(("text", "rgb"), [("#fc3", (255, 204, 51)), ("#1D2b45", (29, 43, 69))])
def test_a_colour_has_three_bytes(text: str, rgb: tuple[int, int, int]) -> None:
    assert Colour(text).rgb == rgb


@pytest.mark.parametrize("text", ["red", "#12", "#12345", "#ggg", "#1d2b45\n", "", "1d2b45"])
def test_what_is_no_colour_is_refused_with_the_remedy(text: str) -> None:
    with pytest.raises(ValueError, match="write it like"):
        Colour(text)


@pytest.mark.parametrize(("text", "mm"), [("247mm", 247), ("24.7 cm", 247), ("9.7 in", 246.38), (" 30 mm ", 30)])
def test_a_circumference_is_read_in_any_unit(text: str, mm: float) -> None:
    assert around_mm(text, "--around") == pytest.approx(mm)


@pytest.mark.parametrize(
    "text", ["nan", "0", "0 mm", "-3 mm", "10 km", "10000 m", "29.9 mm", "3.01 m", "247", "1/3 from obi"]
)
def test_no_ball_is_so_small_or_large(text: str) -> None:
    with pytest.raises(DesignError, match=r"^--around: .*from 30 mm to 3000 mm"):
        around_mm(text, "--around")


@given(st.from_regex(r"[0-9]{1,4}(\.[0-9])? ?(mm|cm|m|in|km|)", fullmatch=True))
def test_any_circumference_is_within_the_limits_or_refused(text: str) -> None:
    def read_mm() -> float:
        try:
            return around_mm(text, "--around")
        except DesignError:
            return SMALLEST_AROUND_MM

    assert SMALLEST_AROUND_MM <= read_mm() <= LARGEST_AROUND_MM


def test_a_working_length_has_its_own_limits() -> None:
    assert plain_mm(Length("1 yd"), "maker.working_length", WORKING_LENGTH) == pytest.approx(914.4)
    with pytest.raises(DesignError, match=r"from 50 mm to 20000 mm, such as \"1 m\""):
        plain_mm(Length("1 mm"), "maker.working_length", WORKING_LENGTH)
