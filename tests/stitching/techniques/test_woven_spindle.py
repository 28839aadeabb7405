"""Spindles with turns woven through them."""

import numpy as np
import pytest

from polestitch.errors import DesignError
from polestitch.stitching.techniques.woven_spindle import marks
from tests.stitching.techniques.woven import woven_ball


# Published (temarikai.com, SC02): S10 on 22 to 23 cm, 11 rounds = 22 threads wide, and an odd number
# of rounds where the obi is woven through.
def test_eleven_rounds_are_22_threads_and_are_woven_by_two() -> None:
    made = woven_ball("woven_spindle", "S10+obi", "obi", "11 navy, 2 gold", {"turns": 2}, around="230 mm")
    rows = made.motifs[0].rows
    assert len(rows) == 10 * 11 + 2
    turns = [k for k, row in enumerate(rows) if row.turn is not None]
    for nth, turn in enumerate(turns):
        mine = np.flatnonzero(made.laid.arc_row[made.crossings.second] == turn)
        along = made.over[mine[np.argsort(made.crossings.t_second[mine])]].reshape(10, 22)
        assert np.array_equal(along, along[:, ::-1])  # alike from both sides of every spindle
        assert np.all(along == along[0])
        assert along[0].reshape(11, 2).all(axis=1).tolist() == [(k + nth) % 2 == 0 for k in range(11)]


@pytest.mark.parametrize("rounds", [1, 3, 5, 11])
def test_an_odd_number_of_rounds_begins_and_ends_alike(rounds: int) -> None:
    assert marks(rounds, 0) == marks(rounds, 0)[::-1]
    assert len(marks(rounds, 0)) == 2 * rounds
    assert marks(rounds, 1) == marks(rounds, 0).translate(str.maketrans("ou", "uo"))


@pytest.mark.parametrize("rows", ["10 navy, 2 gold", "2 gold", "1 navy"])
def test_an_even_number_of_rounds_is_refused(rows: str) -> None:
    with pytest.raises(DesignError, match="must be odd"):
        woven_ball("woven_spindle", "S10+obi", "obi", rows, {"turns": 2})


def test_spindles_may_be_told_by_number_where_no_line_crosses() -> None:
    made = woven_ball("woven_spindle", "S4+obi", "obi", "3 navy, 1 gold", {"turns": 1, "spindles": 8})
    assert len(made.motifs[0].rows) == 8 * 3 + 1
    with pytest.raises(DesignError, match="do not divide"):
        woven_ball("woven_spindle", "S4+obi", "obi", "3 navy, 1 gold", {"turns": 1, "spindles": 6})
