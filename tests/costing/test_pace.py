"""Her pace against general-purpose libraries, published examples, and makers whose pace is known."""

import math

import numpy as np
import pytest
from scipy.optimize import least_squares
from scipy.stats import binom, multivariate_normal, norm

from polestitch.costing.pace import (
    INSIDE,
    MOST,
    Floats,
    _quantile,
    hours_ahead,
    pace,
    prior,
    regressed,
    scatter_of,
    settled,
    times_estimate,
)
from polestitch.costing.sitting import KINDS, Sitting, expected_hours, work_in
from polestitch.estimate.hours import PER
from polestitch.workup import workup
from tests.builds import BAND, KIKU, built
from tests.costing.makers import Maker, ball, drawn, life

SEED = 20261130


def test_one_mean_is_learned_as_in_a_textbook() -> None:
    """Bolstad, Introduction to Bayesian Statistics: Arnie's trout, prior normal(30, 4²), 12 fish of mean 32, sd 2.

    The data are told at http://telliott99.blogspot.com/2009/07/bayes-8-estimation-of-mean.html; the answer of the
    book, normal(31.96, .5714²), is from memory and follows from its rule by hand: precision 1/16 + 12/4 = 3.0625.
    """
    fish, ones = np.full(12, 32.0), np.ones((12, 1))
    off, spread, _ = regressed(ones, fish - 30, np.array([[16.0]]), scatter_of(4 * np.eye(12)))
    assert 30 + off[0] == pytest.approx(31.96, abs=0.005)
    assert math.sqrt(spread[0, 0]) == pytest.approx(0.5714, abs=0.00005)


def some_sittings(seed: int) -> tuple[Floats, Floats, Floats]:
    random = np.random.default_rng(seed)
    logged = [one for piece in life(random, drawn(random, None), [ball(random), ball(random)]) for one in piece]
    expected = np.array([[expected_hours(one.work).get(kind, 0.0) for kind in KINDS] for one in logged])
    same = np.array([[one.piece == two.piece for two in logged] for one in logged], dtype=float)
    return expected, np.log([one.hours for one in logged]), 0.04 * np.eye(len(logged)) + 0.01 * same


def test_the_closed_form_is_augmented_least_squares() -> None:
    """NumPy's lstsq on the sittings and the prior as further lines, all whitened, gives the same mean."""
    random = np.random.default_rng(SEED)
    slope, off = random.dirichlet(np.ones(len(KINDS)), 9), random.normal(0, 0.3, 9)
    _, before = prior()
    noise = 0.05 * np.eye(9) + 0.02
    mean, spread, _ = regressed(slope, off, before, scatter_of(noise))
    white, own = np.linalg.inv(np.linalg.cholesky(noise)), np.linalg.inv(np.linalg.cholesky(before))
    lines = np.vstack([white @ slope, own])
    same, *_ = np.linalg.lstsq(lines, np.concatenate([white @ off, np.zeros(len(KINDS))]), rcond=None)
    assert mean == pytest.approx(same, abs=1e-10)
    assert spread == pytest.approx(np.linalg.inv(lines.T @ lines), abs=1e-10)


def test_the_evidence_is_that_of_a_normal_law() -> None:
    """scipy.stats.multivariate_normal gives the same logarithm."""
    random = np.random.default_rng(SEED)
    slope, off = random.dirichlet(np.ones(len(KINDS)), 6), random.normal(0, 0.3, 6)
    _, before = prior()
    *_, evidence = regressed(slope, off, before, scatter_of(0.07 * np.eye(6)))
    law = multivariate_normal(np.zeros(6), slope @ before @ slope.T + 0.07 * np.eye(6))
    assert evidence == pytest.approx(float(law.logpdf(off)), abs=1e-10)


@pytest.mark.parametrize("seed", range(5))
def test_the_straightened_answer_is_the_likeliest_pace(seed: int) -> None:
    """scipy.optimize.least_squares on the crooked problem itself ends at the same pace."""
    expected, logs, noise = some_sittings(seed)
    mean, *_ = settled(expected, logs, noise)
    middle, before = prior()
    white, own = np.linalg.inv(np.linalg.cholesky(noise)), np.linalg.inv(np.linalg.cholesky(before))

    def residuals(paces: Floats) -> Floats:
        off = logs - np.log((expected * np.exp(paces)).sum(axis=1))
        return np.concatenate([white @ off, own @ (paces - middle)])

    assert mean == pytest.approx(least_squares(residuals, middle, xtol=1e-12, ftol=1e-12).x, abs=1e-4)


def test_a_mixture_is_cut_where_its_law_says() -> None:
    """One normal law against scipy.stats.norm; two are cut where their shares below add up."""
    assert _quantile([(1.0, 2.0, 0.3)], 0.1) == pytest.approx(norm(2.0, 0.3).ppf(0.1), abs=1e-9)
    at = _quantile([(0.25, 0.0, 1.0), (0.75, 3.0, 0.5)], 0.9)
    assert 0.25 * norm.cdf(at) + 0.75 * norm.cdf(at, 3.0, 0.5) == pytest.approx(0.9, abs=1e-9)


@pytest.mark.parametrize("kind", KINDS)
def test_before_the_first_sitting_the_ranges_are_those_of_the_estimate(kind: str) -> None:
    """As log-normal laws, whose ends lie as far apart as the estimate's."""
    times, each = times_estimate(pace(), kind), PER[kind]
    assert times.likely == pytest.approx(1)
    assert times.high / times.low == pytest.approx(each.high / each.low, rel=1e-6)


def test_a_novices_simple_ball_and_an_all_over_c8_are_inside_before_the_first_sitting() -> None:
    """Published: 3 to 4 h, gksagenda.blogspot.com/2011/12/my-one-handmade-gift.html (one page, one maker)."""
    kiku = {**KIKU, "where": "N and S", "rows": "3 navy, 2 white, 1 navy"}
    second = {**kiku, "params": {"outer": "1/2 from obi", "inner": "8 mm", "set": 2}}
    made = built(kiku, second, {**BAND, "rows": "3 navy"})
    hours = hours_ahead(pace(), work_in(workup(made).estimate.hours))
    assert hours.low <= 3
    assert hours.high >= 4


LIVES = [
    pytest.param(None, 0.0, id="any maker"),
    pytest.param(0.5, 0.0, id="a slow one"),
    pytest.param(-0.5, 0.0, id="a quick one"),
    pytest.param(0.3, 0.15, id="a beginner who learns: 10 % quicker with each doubling"),
]
TRIALS = 80


@pytest.mark.slow
@pytest.mark.parametrize("pieces", [1, 3, 8])
@pytest.mark.parametrize(("quick_or_slow", "learning"), LIVES)
def test_eight_in_ten_pieces_held_out_fall_inside(quick_or_slow: float | None, learning: float, pieces: int) -> None:
    """The last ball of each maker is held out.  No fewer than a fair coin of 0.8 would give in 999 of 1000 such tests.

    More may fall inside: a range that is a little wide is honest, one that is narrow is not.
    """
    random, inside, wide = np.random.default_rng(SEED), 0, []
    for _ in range(TRIALS):
        maker = drawn(random, quick_or_slow, learning)
        balls = [ball(random) for _ in range(pieces + 1)]
        *before, last = life(random, maker, balls)
        hours = hours_ahead(pace([one for piece in before for one in piece]), balls[-1])
        inside += hours.low <= sum(one.hours for one in last) <= hours.high
        wide.append(hours.high / hours.low)
    assert inside >= binom.ppf(0.001, TRIALS, INSIDE)
    assert np.mean(wide) < {1: 2.6, 3: 2.1, 8: 2.0}[pieces]  # 3.3 without a sitting


@pytest.mark.slow
def test_for_makers_the_estimate_speaks_of_the_share_inside_is_near_eight_in_ten() -> None:
    """Between the ends that a coin of 0.8 and one of 0.92 would give: no wider than need be."""
    random, inside, trials = np.random.default_rng(SEED + 1), 0, 300
    for _ in range(trials):
        balls = [ball(random) for _ in range(5)]
        *before, last = life(random, drawn(random, None), balls)
        hours = hours_ahead(pace([one for piece in before for one in piece]), balls[-1])
        inside += hours.low <= sum(one.hours for one in last) <= hours.high
    assert binom.ppf(0.001, trials, INSIDE) <= inside <= binom.ppf(0.999, trials, 0.92)


def test_more_sittings_narrow_the_range_and_come_nearer_the_truth() -> None:
    random = np.random.default_rng(SEED)
    maker = Maker(np.full(len(KINDS), 0.4), 0.15, 0.05)
    balls = [ball(random) for _ in range(6)]
    logged = life(random, maker, balls)
    truth = math.exp(0.4) * sum(expected_hours(balls[-1]).values())
    spans = [hours_ahead(pace([one for piece in logged[:n] for one in piece]), balls[-1]) for n in (0, 1, 5)]
    wide = [math.log(span.high / span.low) for span in spans]
    assert wide == sorted(wide, reverse=True)
    assert abs(math.log(spans[2].likely / truth)) < 0.15 < abs(math.log(spans[0].likely / truth))


def test_a_kind_of_work_she_never_logged_stays_less_sure_than_one_she_did() -> None:
    only_bites = [Sitting("a", 2.0, {"bites": 200.0}) for _ in range(12)]
    known = pace(only_bites)
    bites, wrap = times_estimate(known, "bites"), times_estimate(known, "wrap")
    assert bites.high / bites.low < 0.8 * wrap.high / wrap.low
    assert wrap.likely > 1  # a slow hand is likely slow at everything


def test_an_old_sitting_counts_for_less_than_a_new_one() -> None:
    slow, quick = (Sitting("a", hours, {"bites": 200.0}) for hours in (2.4, 0.8))
    assert times_estimate(pace([quick] * 20 + [slow] * 20), "bites").likely > (
        times_estimate(pace([slow] * 20 + [quick] * 20), "bites").likely
    )


def test_a_clock_left_running_is_left_out_and_counted() -> None:
    good, odd = Sitting("a", 1.5, {"bites": 200.0}), Sitting("a", 40.0, {"bites": 10.0})
    known = pace([good, odd, Sitting("a", 1.0, {})])
    assert (known.sittings, known.left_out) == (1, 2)
    assert hours_ahead(known, {"bites": 100.0}) == hours_ahead(pace([good]), {"bites": 100.0})


def test_no_work_takes_no_time_and_no_order_of_columns_matters() -> None:
    assert hours_ahead(pace(), {}).high == 0
    one, two = {"bites": 100.0, "laying": 5.0}, {"laying": 5.0, "bites": 100.0}
    assert hours_ahead(pace(), one) == hours_ahead(pace(), two)


@pytest.mark.slow
def test_of_very_many_sittings_the_newest_are_looked_at() -> None:
    known = pace([Sitting(str(k // 10), 1.0, {"bites": 150.0}) for k in range(600)])
    assert known.sittings == MOST
    assert known.left_out == 0
