"""Ranges told before any measuring, against every published count and length held, and against simulated makers."""

import numpy as np
import pytest

from polestitch.document.ranges import INSIDE
from polestitch.hand import learned
from polestitch.hand.hand import PITCH_OVER_GAUGE, PITCH_SCATTER, PUBLISHED, STEP_MM, STEP_SCATTER
from tests.reference.hands import (
    back_test,
    fitted,
    held,
    held_out,
    implied_pitches,
    implied_steps,
    makers,
    same_maker,
    sampler,
)


def test_four_of_five_published_figures_lie_inside_the_range_told_before_any_measuring() -> None:
    # The patterns and lengths of tests/reference/patterns.py and hands.py, each with its page.
    found = held()
    assert len(found) >= 12
    assert np.mean([one.inside for one in found]) >= INSIDE


def test_the_ranges_are_not_vague() -> None:
    # Rows are rounded outward, which alone makes a count of six a third wide.
    assert np.mean([one.width for one in held()]) < 0.55


def test_each_published_count_is_told_as_well_by_a_hand_fitted_without_it() -> None:
    assert np.mean([one.inside for one in held_out()]) >= INSIDE


def test_the_hand_before_measuring_is_the_one_published_patterns_imply() -> None:
    # As written down in hand/hand.py; a change of the model's contact moves what patterns imply a little.
    pitch, step = fitted(list(implied_pitches().values())), fitted(list(implied_steps().values()))
    assert pytest.approx(pitch.middle, abs=0.05) == PITCH_OVER_GAUGE
    assert pytest.approx(pitch.scatter, abs=0.03) == PITCH_SCATTER
    assert pytest.approx(step.middle, abs=0.05) == STEP_MM
    assert pytest.approx(step.scatter, abs=0.03) == STEP_SCATTER


@pytest.mark.parametrize("samplers", [0, 1, 3])
def test_held_out_pieces_of_simulated_makers_fall_inside_as_often_as_promised(samplers: int) -> None:
    inside, _ = back_test(400, samplers)
    # 800 held-out figures: three standard errors of a share of four fifths.
    assert abs(inside - INSIDE) < 3 * np.sqrt(INSIDE * (1 - INSIDE) / 800)


def test_one_sampler_halves_the_doubt_and_three_leave_what_a_hand_itself_wanders() -> None:
    widths = [back_test(100, samplers)[1] for samplers in (0, 1, 3)]
    assert widths[1] < 0.55 * widths[0]
    assert widths[2] < widths[1]


def test_many_samplers_find_the_maker_herself() -> None:
    for maker, chance in makers(5, seed=3):
        hand = learned(PUBLISHED, [one for _ in range(60) for one in sampler(maker, chance)])
        assert (hand.pitch.middle, hand.step.middle) == pytest.approx(maker, rel=0.03)


@pytest.mark.parametrize(("first", "second"), [(4, 5), (5, 4)])
def test_one_pattern_of_a_maker_narrows_what_is_told_of_her_other_one_and_still_holds_it(
    first: int, second: int
) -> None:
    # Two layers of one ball by one maker, temarikai.com/patterns/tem99st03.html.
    before, after = same_maker(first, second)
    assert after.width < before.width
    assert after.inside
