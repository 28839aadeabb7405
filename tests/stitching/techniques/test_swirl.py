"""Swirl: every bite the same step along the former round's thread, and an inward spiral."""

from itertools import pairwise

import numpy as np
import pytest

from polestitch.errors import DesignError
from polestitch.sphere.arcs import arc_angle
from polestitch.stitching.techniques.swirl import Params, stitch
from tests.stitching.sites import site

STEP_MM = 4.0


def _path(corners: int, rounds: int) -> tuple[np.ndarray, float]:
    """The middles of all bites in the order they are taken, and the in-step in radians."""
    here = site("centre", 250.0, corners)
    rows = list(stitch(here, Params(corners=corners, at="30 mm"), [0.01] * rounds))
    starts = np.concatenate([row.leaves for row in rows])
    return starts, here.ball.angle(STEP_MM)


@pytest.mark.parametrize("corners", [4, 6])
def test_each_bite_lies_the_step_along_the_wall_of_the_round_before(corners: int) -> None:
    path, step = _path(corners, 5)
    for k in range(corners, len(path) - corners):
        wall, end = path[k - corners], path[k - corners + 1]
        # A bite is half a millimetre each side of its middle, so the step is met to that much.
        assert float(arc_angle(wall, path[k])) == pytest.approx(step, abs=0.026)
        normal = np.cross(wall, end)
        assert abs(path[k] @ normal) / np.linalg.norm(normal) < 0.026


def test_the_path_only_ever_turns_inward() -> None:
    path, _ = _path(4, 6)
    away = np.arccos(path[:, 2])
    assert np.all(away[4:] < away[:-4])


def test_a_round_ends_where_the_next_begins() -> None:
    rows = list(stitch(site("centre", 250.0, 6), Params(corners=6), [0.01] * 4))
    for row, following in pairwise(rows):
        middle = row.enters[0] + following.leaves[0]
        assert arc_angle(row.enters[0], following.leaves[0]) == pytest.approx(2 * row.half[0], rel=0.05)
        assert np.linalg.norm(middle) > 1.99


def test_no_more_rounds_than_there_is_room_for() -> None:
    with pytest.raises(DesignError, match="there is no room for another"):
        list(stitch(site("centre", 250.0, 4), Params(), [0.01] * 200))
