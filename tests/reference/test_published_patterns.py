"""Published row counts must come out with a pitch that size-5 pearl cotton can have."""

import pytest

from tests.reference.published import LEAST_MM, MOST_MM, OUTSIDE, PATTERNS, Pattern


@pytest.mark.parametrize("pattern", PATTERNS, ids=lambda pattern: pattern.name)
def test_the_published_row_count_implies_a_pitch_the_thread_can_have(pattern: Pattern) -> None:
    assert LEAST_MM < pattern.pitch_mm() < MOST_MM


@pytest.mark.parametrize("pattern", OUTSIDE, ids=lambda pattern: pattern.name)
def test_the_pattern_listed_as_failing_does_fail(pattern: Pattern) -> None:
    assert not LEAST_MM < pattern.pitch_mm() < MOST_MM
