"""What pins that are off do to the motifs, against pins moved by a known amount."""

from functools import cache
from pathlib import Path

import numpy as np
import pytest

from polestitch.document.codec import read
from polestitch.document.design import Design
from polestitch.fitting.surveyed import MotifGap, motif_gaps
from polestitch.sphere.arcs import move, toward
from polestitch.survey import survey
from tests.survey.balls import Set, pinned

EXAMPLE = Path(__file__).parents[2] / "examples" / "salt-squares.json"


@cache
def design() -> Design:
    return read(EXAMPLE.read_text(encoding="utf-8"))


def gaps(off_mm: float) -> dict[str, MotifGap]:
    """By layer, with the pin of centre 2 so far toward N, and everything read exactly."""
    ball = pinned("C8", 0.0, np.random.default_rng(1), design().ball.around.mm or 0.0)
    at = ball.at.copy()
    k = ball.names.index("centre 2")
    at[k] = move(at[k], toward(at[k], at[0]), np.array(off_mm / ball.radius_mm))
    moved = Set(ball.marking, ball.measured, ball.names, ball.wanted, at)
    found = survey(ball.marking, ball.measured, [moved.read(i, j) for i, j in moved.pairs()])
    return {one.layer: one for one in motif_gaps(design(), found)}


@pytest.mark.slow
def test_pins_in_their_places_leave_the_gap_as_planned() -> None:
    for gap in gaps(0.0).values():
        assert gap.mm == pytest.approx(gap.wanted_mm, abs=1e-4)


@pytest.mark.slow
def test_a_pin_nearer_to_its_neighbour_narrows_the_gap_between_them_by_no_more_than_it_moved() -> None:
    pans = gaps(4.0)["salt pans"]
    assert {pans.first, pans.second} == {"N", "centre 2"}
    assert 0.3 < pans.wanted_mm - pans.mm <= 4.0
