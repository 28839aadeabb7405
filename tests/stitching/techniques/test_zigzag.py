"""Zigzags over a band."""

import numpy as np
import pytest

from polestitch.errors import DesignError
from polestitch.stitching.techniques.zigzag import Params, stitch
from tests.stitching.sites import site


def test_bites_alternate_above_and_below_the_line() -> None:
    seat = site("circle", 250.0, 8)
    (row,) = stitch(seat, Params(), [0.01])
    heights = seat.ball.mm(1.0) * np.arcsin(row.places[:, 2])
    assert heights == pytest.approx(np.tile([5.0, -5.0], 8))


def test_a_double_zigzag_mirrors_the_first() -> None:
    one, two = stitch(site("circle", 250.0, 8), Params(double=True), [0.01])
    assert two.places[:, 2] == pytest.approx(-one.places[:, 2])
    assert (one.number, two.number) == (1, 2)


def test_every_row_steps_away_from_the_line() -> None:
    one, two = stitch(site("circle", 250.0, 8), Params(), [0.01, 0.01])
    assert np.all(np.abs(two.places[:, 2]) > np.abs(one.places[:, 2]))


def test_a_line_nothing_crosses_needs_its_bites_counted() -> None:
    with pytest.raises(DesignError, match="must be given here"):
        list(stitch(site("circle", 250.0, 0), Params(), [0.01]))
