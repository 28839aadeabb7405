"""Hours held against published times, and balls that no time is published for against what is counted on them."""

from functools import cache
from math import inf

import numpy as np
import pytest

from polestitch.costing.sitting import expected_hours, work_in
from polestitch.estimate.hours import BASE, GUESS, PER, TOTALS
from polestitch.estimate.worked import THREADS_A_PASS
from polestitch.families.family import starter
from polestitch.laying.needle import meetings, rows_under
from polestitch.lessons import worked
from polestitch.workup import WorkUp, base_for
from tests.builds import BAND, KIKU, besides, built, marking_of
from tests.reference.published_times import PUBLISHED, Published


@cache
def ball_of(name: str, around_mm: float) -> WorkUp:
    """A family as it is planned for a ball of this size."""
    return worked(starter(name, around_mm))


def hours_by_kind(work: WorkUp) -> dict[str, float]:
    told = expected_hours(work_in(work.estimate.hours))
    return {kind: told.get(kind, 0.0) for kind in PER}


def base_hours(work: WorkUp) -> float:
    told = hours_by_kind(work)
    return told["core"] + told["yarn"] + told["wrap"]


@pytest.mark.parametrize("one", PUBLISHED, ids=lambda one: one.name)
def test_a_published_time_lies_between_a_quick_hand_and_a_slow_one(one: Published) -> None:
    ours = one.ours()
    assert ours.low <= one.most
    assert one.least <= ours.high
    if one.most == inf:  # "or more"
        assert one.least <= ours.likely
    elif one.least:  # and what is likely is nearer to it than a factor of two, which is all one maker's clock can tell
        assert one.least / 2 < ours.likely < 2 * one.most
    else:  # "at most": everybody finishes
        assert ours.high <= one.most


def test_the_published_times_cannot_be_met_by_being_vague() -> None:
    assert all(one.ours().high < 6 * one.ours().low for one in PUBLISHED)


@pytest.mark.parametrize("kind", PER)
def test_a_kind_of_work_without_a_published_time_is_called_our_guess_and_kept_wide(kind: str) -> None:
    each = PER[kind]
    assert each.source in (GUESS, BASE, TOTALS)
    assert each.source.startswith(GUESS)
    assert each.low < each.likely < each.high
    assert each.high >= 3 * each.low


def test_a_large_ball_s_base_takes_several_times_a_small_one_s() -> None:
    # A shell of one depth grows with the square of the way round, (40 / 18)^2 = 4.9; the core's five minutes do not.
    small, large = ball_of("candy-ball", 180), ball_of("candy-ball", 400)
    assert 3 < base_hours(large) / base_hours(small) < (400 / 180) ** 2


def test_a_candy_ball_of_40_cm_takes_more_than_twice_one_of_18() -> None:
    small, large = ball_of("candy-ball", 180), ball_of("candy-ball", 400)
    assert large.estimate.hours.likely > 2 * small.estimate.hours.likely
    for work, around_m in ((small, 0.18), (large, 0.4)):
        turns = len(work.build.order)  # every row is wound, once round the ball
        assert work_in(work.estimate.hours)["turning"] == pytest.approx(turns * around_m)


@pytest.mark.slow
@pytest.mark.parametrize("name", ["cube-weave", "basket-weave"])
def test_the_needle_s_passes_are_counted_on_the_laid_ball(name: str) -> None:
    """Counted anew, crossing by crossing along each row, from ``needle.meetings``, which breaks runs by motif."""
    work = ball_of(name, 270)
    laid, met, over = work.build.laid, work.build.crossings, work.build.over
    passes = threads = 0
    for row in rows_under(laid, met, over, own=True).tolist():
        before = False
        for one in meetings_in_full(work, row):
            passes += one and not before
            threads += one
            before = one
    assert work_in(work.estimate.hours)["under"] == pytest.approx(passes + threads / THREADS_A_PASS)
    assert threads == int((~over).sum())


def meetings_in_full(work: WorkUp, row: int) -> list[bool]:
    """Under or over for every thread a row meets, leg by leg; legs that only go over have no meetings, and are one."""
    laid, met, over = work.build.laid, work.build.crossings, work.build.over
    told = meetings(laid, met, over, row, own=True)
    legs = int((laid.span_row == row).sum())
    full: list[bool] = []
    for leg in range(legs):
        mine = [one for one in told if one.leg == leg]
        full += [one.under for one in mine for _ in range(one.threads)] or [False]
    return full


def test_weaves_take_longer_the_more_the_needle_passes_under() -> None:
    """24,500 crossings under and over are a day's work and more; plain winding of as much thread is not."""
    cube, basket, candy = ball_of("cube-weave", 270), ball_of("basket-weave", 270), ball_of("candy-ball", 270)
    under = [hours_by_kind(work)["under"] for work in (cube, basket, candy)]
    assert under == sorted(under, reverse=True)
    assert under[2] == 0
    assert cube.estimate.hours.likely > 2 * basket.estimate.hours.likely > 2 * candy.estimate.hours.likely
    # 2,472 passes at no less than 4 s and no more than 20 s each, and up to half as much again for 10,960 threads.
    assert 2472 * 4 / 3600 < under[0] < 2472 * 20 * 1.6 / 3600


def test_a_bite_takes_longer_on_a_large_ball_in_proportion_to_the_way_round_it() -> None:
    small, large = (built(KIKU, {**BAND, "rows": "2 navy"}, ball={"around": f"{mm} mm"}) for mm in (200, 400))
    turned = [float(np.sum(besides(made).rows["turning"])) for made in (small, large)]
    # A quarter for each of 24 bites; a band of two rows is two turns on either side of its line.
    assert turned[0] == pytest.approx(0.2 * (3 * 8 / 4 + 2 * 2))
    assert turned[1] == pytest.approx(2 * turned[0])
    assert besides(small, marking_of(small)).rows["bites"].sum() == 24


def test_a_ball_too_small_for_a_core_is_thread_all_through() -> None:
    tiny = base_for(30, 1.0)
    # A ball 30 mm round holds 4/3 pi (30/2pi)^3 = 456 mm3; at 0.55 g/cm3 and 27 g a kilometre, 9.3 m of thread.
    assert tiny.yarn_m == 0
    assert tiny.thread_m == pytest.approx(9.29, abs=0.02)
