"""Pine needle: even strokes from a centre."""

import numpy as np
import pytest

from polestitch.errors import DesignError
from polestitch.sphere.arcs import arc_angle
from polestitch.stitching.stitches import Row
from polestitch.stitching.techniques.pine_needle import Params, stitch
from tests.stitching.sites import site


def _bearings(row: Row) -> np.ndarray:
    return np.sort(np.degrees(np.arctan2(row.enters[:, 1], row.enters[:, 0])) % 360)


def test_strokes_spread_evenly_all_the_way_round() -> None:
    (row,) = stitch(site("centre", 250.0, 8), Params(strokes=16), [0.01])
    assert np.diff(_bearings(row)) == pytest.approx(22.5)
    ends = np.roll(row.enters, -1, axis=0)
    assert arc_angle(row.leaves, ends) * 250.0 / (2 * np.pi) == pytest.approx(8.0)


def test_a_fan_lies_about_the_start_line() -> None:
    (row,) = stitch(site("centre", 250.0, 8), Params(strokes=5, fan=60), [0.01])
    bearings = np.sort((_bearings(row) + 180) % 360 - 180)
    assert bearings == pytest.approx([-30, -15, 0, 15, 30])


def test_a_second_row_falls_between_the_strokes_of_the_first() -> None:
    one, two = stitch(site("centre", 250.0, 8), Params(strokes=8), [0.01] * 2)
    assert _bearings(two) - _bearings(one) == pytest.approx(22.5)


def test_a_tip_nearer_than_the_start_is_refused() -> None:
    with pytest.raises(DesignError, match="further from the centre"):
        list(stitch(site("centre", 250.0, 8), Params(outer="1 mm"), [0.01]))
