"""Couched line: one thread laid, stitches across it."""

import numpy as np
import pytest

from polestitch.errors import DesignError
from polestitch.pipeline import build
from polestitch.stitching.techniques.couching import Params, stitch
from tests.stitching.crafts import design_of
from tests.stitching.sites import site

MM = 250.0 / (2 * np.pi)


def test_every_holding_stitch_crosses_the_laid_thread_once_and_lies_on_top() -> None:
    made = build(design_of("couching", "S8", where="line 1", rows="1 gold, 1 navy", params={"bow": "6 mm"}))
    laid, held = made.motifs[0].rows
    assert len(laid.half) == 1
    assert len(made.crossings) == len(held.half) > 5
    assert made.over.all()


def test_stitches_stand_as_far_apart_as_asked_to_the_nearest_whole_number() -> None:
    here = site("arc", 250.0, 2)
    laid, held = stitch(here, Params(at="20 mm from centre", every="8 mm"), [0.02, 0.01])
    assert len(held.half) == 4  # 40 mm in five parts of 8 mm
    middles = held.leaves + np.roll(held.enters, -1, axis=0)
    along = np.arctan2(middles[:, 0], middles[:, 2]) * MM
    assert along == pytest.approx([12.0, 4.0, -4.0, -12.0])
    assert len(laid.via[0]) == 0


def test_a_bowed_line_reaches_its_bow_in_the_middle() -> None:
    (laid,) = stitch(site("arc", 250.0, 2), Params(bow="6 mm"), [0.02])
    assert np.arcsin(laid.via[0][:, 1]).max() * MM == pytest.approx(6.0, rel=0.05)


def test_a_distance_no_line_has_room_for_is_refused() -> None:
    with pytest.raises(DesignError, match="half of the laid thread"):
        list(stitch(site("arc", 250.0, 2), Params(every="120 mm"), [0.02]))
