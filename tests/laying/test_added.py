"""A row added to a laid ball is the row a whole build would have laid."""

from dataclasses import replace

import numpy as np
import pytest

from polestitch.document.design import Design
from polestitch.laying.added import with_row
from polestitch.laying.settle import Strands
from polestitch.pipeline import build


def design(rows: str) -> Design:
    """A spindle-crossed kiku; the kiku comes last, so its last row is the last one laid."""
    return Design.model_validate(
        {
            "name": "added",
            "ball": {"around": "250 mm"},
            "threads": [{"name": "navy", "colour": "#234"}],
            "marking": {"division": "S8+obi"},
            "layers": [
                {"name": "obi", "technique": "band", "where": "obi", "rows": "3 navy"},
                {"name": "leaves", "technique": "spindle", "where": "odd lines", "rows": "3 navy"},
                {"name": "kiku", "technique": "uwagake", "where": "N", "rows": rows},
            ],
        }
    )


def test_a_row_added_is_the_row_a_whole_build_lays() -> None:
    before, after = build(design("4 navy")), build(design("5 navy"))
    strands = Strands()
    for row in before.motifs[-1].rows:
        strands.laid(row)
    laid, met = with_row(before.laid, before.crossings, after.motifs[-1], strands)
    assert laid.start == pytest.approx(after.laid.start, abs=1e-12)
    assert laid.arc_span.tolist() == after.laid.arc_span.tolist()
    assert laid.row_number.tolist() == after.laid.row_number.tolist()
    pairs = [sorted(zip(each.first.tolist(), each.second.tolist())) for each in (met, after.crossings)]
    assert pairs[0] == pairs[1]


def test_a_turn_can_be_added_too() -> None:
    before = build(design("4 navy"))
    band = before.motifs[0]
    turn = replace(band, rows=band.rows[:1], threads=band.threads[:1])
    laid, met = with_row(before.laid, before.crossings, turn, Strands())
    assert laid.row_layer[-1] == 0
    assert np.all(met.second[len(before.crossings) :] == len(before.laid.offset))
