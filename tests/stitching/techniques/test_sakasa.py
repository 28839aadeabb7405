"""Sakasa uwagake: the {8/3} star, bites that widen on the way in."""

import numpy as np
import pytest

from polestitch.errors import DesignError
from polestitch.stitching.techniques.sakasa import Params, stitch
from tests.stitching.sites import site


def test_the_usual_star_goes_to_every_third_line_of_eight() -> None:
    # Published path of eight points in steps of three (temarikai.com, on sakasa uwagake).
    (row,) = stitch(site("centre", 250.0, 8), Params(), [0.017])
    assert row.spokes == (1, 4, 7, 2, 5, 8, 3, 6)
    assert row.laps == 3


def test_bites_gather_at_every_corner_step_inward_and_widen() -> None:
    rows = list(stitch(site("centre", 250.0, 8), Params(), [0.017] * 5))
    distance = np.array([np.arccos(row.places[:, 2]) for row in rows])
    assert all(row.wide.all() for row in rows)
    assert np.allclose(np.diff(distance, axis=0), -0.017)
    assert np.all(np.diff([row.half for row in rows], axis=0) > 0)


def test_each_new_leg_lies_one_thread_beside_the_former_one_where_it_is_bitten() -> None:
    pitch = 0.01
    rows = list(stitch(site("centre", 250.0, 8), Params(), [pitch] * 2))
    legs = [np.cross(row.leaves[0], row.enters[1]) for row in rows]
    normal = legs[0] / np.linalg.norm(legs[0])
    assert abs(np.arcsin(rows[1].leaves[0] @ normal)) == pytest.approx(pitch, rel=0.03)


def test_a_step_of_half_the_corners_is_refused() -> None:
    with pytest.raises(DesignError, match="less than half of the 8 corners"):
        list(stitch(site("centre", 250.0, 8), Params(step=4), [0.017]))
