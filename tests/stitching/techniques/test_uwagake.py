"""Uwagake: the zigzag that makes a kiku."""

import numpy as np
import pytest

from polestitch.document.lengths import Length
from polestitch.sphere.arcs import arc_angle
from polestitch.stitching.techniques.uwagake import Params, stitch
from tests.stitching.sites import site

PITCH_MM = 0.71


@pytest.mark.parametrize(("lines", "bites", "laps"), [(8, 8, 1), (16, 16, 1), (5, 10, 2), (9, 18, 2)])
def test_an_odd_number_of_lines_brings_the_thread_home_after_two_laps(lines: int, bites: int, laps: int) -> None:
    # Published counting rule for odd sets (temarikai.com, stitch-along 0801; nukumore.jp): a row is
    # counted when the start is reached again, which for an odd set takes two laps.
    seat = site("centre", 250.0, lines)
    (row,) = stitch(seat, Params(), [seat.ball.angle(PITCH_MM)])
    assert (len(row.spokes), row.laps) == (bites, laps)


def test_the_first_points_stand_where_the_pattern_puts_them() -> None:
    # Published kiku on a 20 cm ball (temarikai.com, simple pattern CC01): inner points 6 mm from
    # the pole, outer points one third of pole to obi above the obi, so 33.3 mm from the pole.
    seat = site("centre", 200.0, 16)
    (row,) = stitch(seat, Params(outer=Length("1/3 from obi"), inner=Length("6 mm")), [seat.ball.angle(PITCH_MM)])
    from_pole = seat.ball.mm(1.0) * arc_angle(row.places[:2], np.array([0, 0, 1.0]))
    assert from_pole == pytest.approx([2 / 3 * 50, 6.0])


def test_the_second_set_starts_one_line_further() -> None:
    seat = site("centre", 250.0, 8)
    (row,) = stitch(seat, Params(set=2), [seat.ball.angle(PITCH_MM)])
    assert row.spokes[0] == 2
    assert row.narrow[0]


def test_inner_bites_widen_row_by_row_and_outer_ones_do_not() -> None:
    seat = site("centre", 250.0, 8)
    rows = list(stitch(seat, Params(), [seat.ball.angle(PITCH_MM)] * 5))
    halves = np.array([row.half[:2] for row in rows])
    assert np.all(np.diff(halves[:, 0]) == 0)
    assert np.all(np.diff(halves[:, 1]) > 0)


def test_twenty_two_lines_stitched_between_take_four_laps() -> None:
    # Published: http://www.temarikai.com/spindlecenter.html (four times round the ball to come home).
    # Of all steps only four gives four laps; both kinds of bite then stand on every second space.
    here = site("centre", 250.0, 22)
    laps = {}
    for step in range(1, 11):
        (row,) = stitch(here, Params(between=True, step=step), [0.01])
        assert len(row.spokes) % 2 == 0
        laps[step] = row.laps
    assert [step for step, count in laps.items() if count == 4] == [4]
    (row,) = stitch(here, Params(between=True, step=4), [0.01])
    azimuth = np.degrees(np.arctan2(row.places[:, 1], row.places[:, 0])) % (360 / 22)
    assert azimuth == pytest.approx(180 / 22)


def test_inner_bites_may_step_toward_the_centre() -> None:
    rows = list(stitch(site("centre", 250.0, 16), Params(inner_step=-0.5), [0.01] * 3))
    inner = [float(np.arccos(row.places[1, 2])) for row in rows]
    assert np.diff(inner) == pytest.approx(-0.005)
