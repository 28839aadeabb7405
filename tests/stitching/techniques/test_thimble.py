"""Ring-thimble zigzag: laps, needles, and a band that fills."""

from math import gcd

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from polestitch.errors import DesignError
from polestitch.sphere.arcs import arc_angle
from polestitch.stitching.techniques.thimble import Params, stitch
from tests.stitching.sites import site


@given(marks=st.integers(4, 60), step=st.integers(1, 12))
def test_a_row_comes_home_after_as_many_laps_as_the_group_order_says(marks: int, step: int) -> None:
    # Number theory: one pair of bites goes on by 2 step marks, an element of order marks / gcd(marks, 2 step).
    if 3 * step > marks:
        return
    (row,) = stitch(site("circle", 250.0, 8), Params(marks=marks, step=step), [0.01])
    pairs = marks // gcd(marks, 2 * step)
    assert len(row.spokes) == 2 * pairs
    assert row.laps == 2 * step * pairs // marks


def test_an_odd_number_of_marks_takes_two_laps() -> None:
    # Published: a row counts only when the start is reached again (a Japanese page on thimble rings).
    (row,) = stitch(site("circle", 250.0, 8), Params(marks=9), [0.01])
    assert row.laps == 2


def test_needles_share_all_marks_between_them() -> None:
    rows = list(stitch(site("circle", 250.0, 8), Params(marks=12, step=2, needles=4), [0.01]))
    upper = [spoke for row in rows for spoke, place in zip(row.spokes, row.places) if place[2] > 0]
    assert sorted(upper) == list(range(1, 13))


def test_each_row_lies_one_thread_beside_the_former_one() -> None:
    pitch = 0.008
    one, two = stitch(site("circle", 250.0, 8), Params(marks=16), [pitch] * 2)
    middle = one.places[0] + one.places[1]
    normal = np.cross(two.places[0], two.places[1])
    gap = abs(np.arcsin(middle / np.linalg.norm(middle) @ (normal / np.linalg.norm(normal))))
    assert gap == pytest.approx(pitch, rel=0.02)
    assert np.ptp(arc_angle(one.places, two.places)) < 1e-9


def test_more_rows_than_the_band_holds_are_refused() -> None:
    with pytest.raises(DesignError, match="rows at most"):
        list(stitch(site("circle", 250.0, 8), Params(marks=40), [0.02] * 40))
    with pytest.raises(DesignError, match="do not divide the 2 sets"):
        list(stitch(site("circle", 250.0, 8), Params(marks=16, needles=3), [0.01]))
