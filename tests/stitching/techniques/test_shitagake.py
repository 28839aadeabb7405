"""Shitagake: small inner bites, and threads that duck under the earlier ones there."""

import numpy as np

from polestitch.pipeline import build
from polestitch.stitching.techniques.shitagake import Params, stitch
from tests.stitching.crafts import design_of
from tests.stitching.sites import site


def test_inner_bites_stay_small_and_step_away_from_the_centre() -> None:
    rows = list(stitch(site("centre", 250.0, 8), Params(), [0.017] * 4))
    inner = np.array([np.arccos(row.places[1::2, 2]) for row in rows])
    assert np.all(np.diff(inner, axis=0) > 0.016)
    here = site("centre", 250.0, 8)
    assert all(np.all(row.half <= here.bite) and not row.wide.any() for row in rows)


def test_later_rows_lie_below_at_the_centre_and_on_top_at_the_tips() -> None:
    # Published: the thread ducks under the threads it meets (a teacher of thimble rings, craft notes on shitagake).
    made = build(design_of("shitagake", "S8", rows="3 navy, 2 white"))
    number, met = made.laid.row_number[made.laid.arc_row], made.crossings
    later, away = number[met.first] < number[met.second], np.arccos(met.point[:, 2]) * made.ball.radius_mm
    assert np.count_nonzero(later & (away < 20)) > 0
    assert not made.over[later & (away < 20)].any()
    assert made.over[later & (away > 25)].all()


def test_the_same_zigzag_worked_over_has_no_thread_below() -> None:
    made = build(design_of("uwagake", "S8", rows="3 navy, 2 white"))
    number = made.laid.row_number[made.laid.arc_row]
    assert made.over[number[made.crossings.first] < number[made.crossings.second]].all()


def test_an_odd_division_takes_two_laps() -> None:
    (row,) = stitch(site("centre", 250.0, 5), Params(), [0.017])
    assert (row.laps, len(row.spokes)) == (2, 10)
