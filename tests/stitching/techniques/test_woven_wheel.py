"""Woven wheel: over one, under the next, and the other way in the next round."""

import numpy as np
import pytest

from polestitch.errors import DesignError
from polestitch.pipeline import build
from polestitch.stitching.techniques.woven_wheel import Params, stitch
from tests.stitching.crafts import design_of
from tests.stitching.sites import site


@pytest.mark.parametrize("strokes", [5, 7, 9])
def test_the_weaving_alternates_along_the_thread_and_between_rounds(strokes: int) -> None:
    made = build(design_of("woven_wheel", "S8", rows="1 navy, 4 gold", params={"strokes": strokes}))
    laid, met = made.laid, made.crossings
    first, second = laid.arc_row[met.first], laid.arc_row[met.second]
    woven = first == 0
    order = np.lexsort((met.t_second[woven], met.second[woven], second[woven]))
    over = made.over[woven][order]
    assert len(over) == 4 * strokes
    assert np.all(over[1:] != over[:-1])


def test_an_even_number_of_strokes_is_refused() -> None:
    with pytest.raises(DesignError, match="so 7 or 9"):
        list(stitch(site("centre", 250.0, 8), Params(strokes=8), [0.01]))


def test_a_full_wheel_takes_no_more_rounds() -> None:
    with pytest.raises(DesignError, match="reaches the rim"):
        list(stitch(site("centre", 250.0, 8), Params(), [0.02] * 30))
