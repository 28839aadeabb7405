"""Stars: {k/s} paths and their laps."""

from math import gcd

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from polestitch.errors import DesignError
from polestitch.stitching.techniques.star import Params, stitch
from tests.stitching.sites import site


@given(points=st.integers(5, 24), step=st.integers(2, 11))
def test_a_star_comes_home_after_k_over_gcd_bites_and_s_over_gcd_laps(points: int, step: int) -> None:
    # Number theory: the order of step in the integers modulo points.
    if 2 * step >= points:
        return
    (row,) = stitch(site("centre", 250.0, points), Params(points=points, step=step), [0.01])
    turned = (np.diff([*row.spokes, row.spokes[0]]) % points).sum() / points
    assert len(row.spokes) == points // gcd(points, step)
    assert row.laps == turned == step // gcd(points, step)


def test_the_five_point_star_goes_a_c_e_b_d() -> None:
    # Published path A-C-E-B-D-A on five points (temarikai.com, C10 pattern GT33).
    (row,) = stitch(site("centre", 270.0, 10), Params(), [0.01])
    assert [(spoke - 1) // 2 for spoke in row.spokes] == [0, 2, 4, 1, 3]


def test_a_step_of_half_the_points_or_more_is_refused() -> None:
    with pytest.raises(DesignError, match="must be less than half of the 5 points"):
        list(stitch(site("centre", 250.0, 10), Params(points=5, step=3), [0.01]))
