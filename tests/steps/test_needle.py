"""Where the needle passes under what: read as a maker would, and held against the crossings themselves."""

import re
from collections.abc import Mapping
from itertools import pairwise
from typing import Any

import numpy as np

from polestitch.laying.needle import meetings, rows_under
from polestitch.pipeline import Build
from polestitch.steps.layer import layer_lines
from tests.builds import BAND, KIKU, SQUARE, built

SQUARES = {**SQUARE, "where": "all centres", "rows": "3 navy", "params": {"corners": 4, "at": "40 mm"}}
WEAVE = {**BAND, "where": "all equators", "rows": "1 navy"}


def told(made: Build, layer: int = 0) -> list[str]:
    return [line.text for line in layer_lines(made, layer)]


def ruled(layer: Mapping[str, Any], rule: str, other: str = "layer 1") -> dict[str, Any]:
    return {**layer, "under": [{"layer": other, "rule": rule}]}


def test_interlocked_squares_tell_each_side_under_and_over() -> None:
    lines = told(built(ruled(SQUARES, "interlocked"), division="C8"))
    assert "Interlock it with the other motifs of this layer: go under where you enter one of them" in " ".join(lines)
    assert "At centre 2, in every row: from line 7 to line 1 under 3 threads at N." in lines
    assert any("eye first" in line for line in lines)
    assert not any(line.startswith("At N,") for line in lines)  # nothing is there yet


def test_every_pass_under_is_told_once() -> None:
    made = built(ruled(SQUARES, "interlocked"), division="C8")
    row = rows_under(made.laid, made.crossings, made.over)
    passed = [meeting for k in row.tolist() for meeting in meetings(made.laid, made.crossings, made.over, k)]
    under = sum(meeting.threads for meeting in passed if meeting.under)
    closing = 3 * len(made.motifs)  # a bite drawn in at the end of every row is no pass
    assert under == np.count_nonzero(~made.over) - closing


def test_a_weave_of_bands_is_told_band_by_band() -> None:
    lines = told(built(ruled(WEAVE, "woven bands"), division="C10"))
    last = next(line for line in lines if line.startswith("At the equator of centre 6,"))
    words = re.findall(r"\b(under|over) \d+ threads", last)
    assert len(words) == 10  # five other bands, each met twice
    assert all(one != two for one, two in pairwise(words))


def test_the_pattern_is_spelt_out() -> None:
    lines = told(built(KIKU, ruled(BAND, "pattern OUU")), 1)
    assert (
        "Where this thread meets layer 1, take one group after the other like this: over, under, under, and again."
        in lines
    )


def test_rows_that_go_differently_are_told_apart() -> None:
    kiku = {**KIKU, "params": {"outer": "5 mm from obi", "inner": "8 mm"}, "rows": "6 navy"}
    made = built(kiku, ruled({**SQUARE, "params": {"corners": 4, "at": "25 mm"}}, "all"))
    (line,) = [line for line in told(made, 1) if line.startswith("In ") and "under" in line]
    assert line.startswith("In every row: from line 1 to line 3 under 12 threads of layer 1 at N;")


def test_a_ball_without_rules_says_nothing_of_the_needle() -> None:
    made = built(KIKU, BAND)
    assert not any("eye first" in line for layer in (0, 1) for line in told(made, layer))
