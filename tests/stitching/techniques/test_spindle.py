"""Spindles: two tips on one line."""

import numpy as np
import pytest

from polestitch.document.lengths import Length
from polestitch.stitching.techniques.spindle import Params, stitch
from tests.stitching.sites import site


def test_a_row_is_two_bites_and_each_tip_steps_out_by_the_stretch() -> None:
    seat = site("arc", 230.0, 2)
    one, two = stitch(seat, Params(), [seat.ball.angle(0.71)] * 2)
    tips = [seat.ball.mm(1.0) * np.arccos(row.places[:, 2]) for row in (one, two)]
    assert len(one.spokes) == 2
    assert tips[1] - tips[0] == pytest.approx([2.0, 2.0])


def test_the_ball_is_turned_at_every_tip_so_the_thread_leaves_each_on_opposite_sides() -> None:
    (row,) = stitch(site("arc", 230.0, 2), Params(at=Length("1/2 from edge")), [0.01])
    assert row.travel[0] @ row.travel[1] == pytest.approx(-1.0)


def test_the_work_travels_clockwise_seen_from_outside() -> None:
    # Published order (offthegridneedlearts.com, spindle lesson): out left of the upper pin, bite
    # right to left, then down the right side: at the upper tip the work travels to the right.
    (row,) = stitch(site("arc", 230.0, 2), Params(), [0.01])
    up, seen_from_outside = row.outward[0], row.places[0]
    right = np.cross(up, seen_from_outside)
    assert row.travel[0] @ right == pytest.approx(1.0)
