"""What the chair says of each leg's needle: what it goes under and over, and nothing of the bite that closes a row."""

import numpy as np
import pytest

from polestitch.chair.passes import passes_said
from polestitch.laying.weave import closing
from tests.builds import KIKU, SQUARE, built


def test_a_row_that_only_closes_goes_under_nothing() -> None:
    made = built(SQUARE, KIKU)
    assert np.count_nonzero(closing(made.laid, made.crossings)) == 4 + 3
    assert passes_said(made) == {}


@pytest.mark.parametrize("rule", ["all", "under first"])
def test_threads_said_are_those_met_but_for_the_row_s_own_first_leg(rule: str) -> None:
    later = {**SQUARE, "params": {"corners": 8, "at": "14 mm"}, "under": [{"layer": "layer 1", "rule": rule}]}
    made = built(SQUARE, later)
    laid, met = made.laid, made.crossings
    said = passes_said(made)
    assert said
    for span, ways in said.items():
        own = laid.span_row[span]
        last = span + 1 == len(laid.span_row) or laid.span_row[span + 1] != own
        first = int(np.flatnonzero(laid.span_row == own)[0])
        meets = [
            (int(one), bool(over))
            for one, two, over in zip(laid.arc_span[met.first], laid.arc_span[met.second], made.over)
            if two == span and not (last and one == first)
        ]
        for below, words in zip((True, False), ways):
            counted = sum(int(word.split()[0]) for word in words)
            assert counted == sum(over != below for _, over in meets)
