"""Tri-wing: six lines, one thread, three horns and a hexagon."""

import numpy as np
import pytest
from shapely.geometry import LineString
from shapely.ops import polygonize, unary_union

from polestitch.errors import DesignError
from polestitch.stitching.stitches import Row
from polestitch.stitching.techniques.tri_wing import Params, stitch
from tests.stitching.sites import site


def _middle_field(row: Row) -> int:
    """Corners of the field round the centre that the row's legs cut out, seen flat (gnomonic); shapely."""
    flat = row.places[:, :2] / row.places[:, 2:]
    legs = [LineString([a, b]) for a, b in zip(flat, np.roll(flat, -1, axis=0))]
    fields = [field for field in polygonize(unary_union(legs)) if field.contains(LineString([(0, 0), (1e-6, 0)]))]
    return len(fields[0].simplify(1e-9).exterior.coords) - 1


def test_one_thread_passes_the_centre_six_times_and_leaves_a_hexagon() -> None:
    # Published: a hexagon with three horns, one continuous thread (Japanese lesson pages on mitsubane kikkou).
    (row,) = stitch(site("centre", 250.0, 6), Params(), [0.01])
    assert _middle_field(row) == 6
    assert row.laps == 2
    assert set(row.spokes) == {1, 3, 5}


def test_three_horns_stand_out() -> None:
    (row,) = stitch(site("centre", 250.0, 6), Params(), [0.01])
    far = np.arccos(row.places[:, 2])
    assert np.count_nonzero(far > 0.9 * far.max()) == 3


def test_the_outline_is_worked_once_round_on_all_six_lines() -> None:
    (row,) = stitch(site("centre", 250.0, 6), Params(order="outline"), [0.01])
    assert (row.laps, row.spokes) == (1, (1, 2, 3, 4, 5, 6))


def test_fewer_lines_are_refused() -> None:
    with pytest.raises(DesignError, match="6 does not divide the 8 lines"):
        list(stitch(site("centre", 250.0, 8), Params(), [0.01]))
