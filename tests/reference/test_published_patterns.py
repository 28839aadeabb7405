"""Published row counts must come out with a pitch and a step that size-5 pearl cotton can have."""

import numpy as np
import pytest

from polestitch.stitching import moves
from tests.reference.patterns import PATTERNS, Pattern
from tests.reference.published import ELONGATED, misses, plain, rms, stretched

# What threads lie at, over a published gauge that packs them hard: published patterns imply up to 1.5 times as much.
LEAST, MOST = 1.0, 1.5
PITCHED = [pattern for pattern in PATTERNS if pattern.pitch_mm() is not None]


def test_most_of_the_patterns_say_how_wide_their_thread_lay() -> None:
    assert len(PITCHED) >= 5


@pytest.mark.parametrize("pattern", PITCHED, ids=lambda pattern: pattern.name)
def test_the_published_row_count_implies_a_pitch_the_thread_can_have(pattern: Pattern) -> None:
    assert LEAST < (pattern.pitch_mm() or 0.0) / pattern.packed_mm < MOST


@pytest.mark.parametrize("hand", [1.0, 1.2])
def test_the_rule_of_steps_bears_published_counts_out_better_than_those_it_was_chosen_over(hand: float) -> None:
    # Decision 0174.  A rule that opens the rows of a square is not among them: see there.
    now = rms(misses(moves.tip_step, hand))
    assert now < rms(misses(plain, hand))
    assert now < rms(misses(stretched, hand))


def test_no_rule_is_judged_by_the_spindles_that_are_longer_on_purpose() -> None:
    # temarikai.com/PatternsPages/Simple/GK09.html calls them elongated: twice the step of any other pattern.
    steps = {pattern.name: pattern.step_mm() for pattern in PATTERNS}
    longer = steps.pop(ELONGATED)
    assert longer > 1.4 * max(steps.values())


def test_published_points_step_about_two_millimetres() -> None:
    # http://www.temarikai.com/HowToPages/stretchpoints.html: about 2 mm below the former stitch in size 5.
    points = [one.step_mm() for one in PATTERNS if one.packed_mm > 0.7 and 1.5 < one.step_mm() < 3]
    assert len(points) == 4
    assert 1.9 < float(np.median(points)) < 2.6
