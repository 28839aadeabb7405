"""Wrapped bands."""

import numpy as np
import pytest

from polestitch.errors import DesignError
from polestitch.stitching.techniques.band import Params, stitch
from tests.stitching.sites import site


def offsets(**params: str) -> list[float]:
    """Distances of the turns from the line, in pitches."""
    seat = site("circle", 250.0, 8)
    rows = list(stitch(seat, Params.model_validate(params), [0.01] * 3))
    return [float(np.arcsin(row.turn.offset)) / 0.01 for row in rows if row.turn]


def test_three_turns_each_side_make_six_threads() -> None:
    # Published C8 band lesson on 25 cm (temarikai.com, GT53): three turns each side, six threads.
    assert offsets() == pytest.approx([0.5, 1.5, 2.5, -0.5, -1.5, -2.5])


def test_a_first_turn_on_the_line_is_shared_by_both_sides() -> None:
    # Published seven-thread band (temarikai.com, ST03): one on the line, then each side.
    assert offsets(first="on") == pytest.approx([0, 1, 2, -1, -2])


def test_a_band_may_lie_parallel_to_its_circle() -> None:
    lower, upper = offsets(side="left", off="10 mm", toward="left"), offsets(side="left")
    assert np.diff([upper, lower], axis=0) == pytest.approx(np.full((1, 3), 10 / 250 * 2 * np.pi / 0.01))


def test_a_band_wider_than_the_ball_is_refused() -> None:
    with pytest.raises(DesignError, match="runs over its own pole"):
        list(stitch(site("circle", 250.0, 8), Params(), [0.01] * 200))
