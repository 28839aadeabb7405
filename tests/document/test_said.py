"""Lengths in words: what a hand can set first, then the exact value."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from polestitch.document.said import in_short, listed, near_length, set_length

MM_PER_INCH = 25.4  # by definition (1959)


@pytest.mark.parametrize(
    ("mm", "said"),
    [(12.0, "12 mm"), (12.3, "12.5 mm (exactly 12.3)"), (12.52, "12.5 mm"), (0.36, "0.5 mm (exactly 0.4)")],
)
def test_half_millimetres_come_first(mm: float, said: str) -> None:
    assert set_length(mm) == said


@pytest.mark.parametrize(("mm", "said"), [(25.4, "1 in"), (12.7, "1/2 in"), (30.2, "1 3/16 in"), (0.2, "1/16 in")])
def test_inches_are_read_off_a_ruler_of_sixteenths(mm: float, said: str) -> None:
    assert set_length(mm, "in") == f"{said} ({mm:.1f} mm)"


@given(mm=st.floats(2, 500))
def test_a_length_to_set_is_never_further_off_than_its_finest_mark(mm: float) -> None:
    half = float(set_length(mm).split()[0])
    assert abs(half - mm) <= 0.25 + 1e-9
    inches = set_length(mm, "in").partition(" in")[0].split()
    ruler = sum(Fraction(part) for part in inches)
    assert abs(float(ruler) * MM_PER_INCH - mm) <= MM_PER_INCH / 32 + 1e-9


def test_lengths_to_know_are_short() -> None:
    assert [near_length(mm) for mm in (40, 12.34, 1000, 2510)] == ["40 mm", "12.3 mm", "1 m", "2.5 m"]
    assert [near_length(mm, "in") for mm in (12.7, 1828.8)] == ["0.50 in", "2.0 yd"]


def test_lists_read_as_sentences() -> None:
    assert [listed(names) for names in ([], ["N"], ["N", "S"], ["N", "S", "obi 1"])] == [
        "",
        "N",
        "N and S",
        "N, S and obi 1",
    ]
    assert in_short(["N", "centre 2", "centre 3", "centre 4", "S"]) == "N, centre 2 to centre 4 and S"
    assert (
        in_short([f"centre {2 * k}" for k in range(20)], most=3)
        == "centre 0, centre 2, centre 4 and so on, as on the chart"
    )
