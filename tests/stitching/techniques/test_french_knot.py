"""French knots: counted, and as thick as their windings."""

import numpy as np
import pytest

from polestitch.pipeline import build
from polestitch.stitching.techniques.french_knot import Params, stitch
from tests.stitching.crafts import design_of
from tests.stitching.sites import site


def test_one_knot_sits_in_the_centre_and_a_ring_has_as_many_as_asked() -> None:
    (one,) = stitch(site("centre", 250.0, 8), Params(), [0.02])
    (ring,) = stitch(site("centre", 250.0, 8), Params(knots=8), [0.02])
    assert len(one.half) == 1
    assert float(one.leaves[0, 2]) > np.cos(0.03)
    assert len(ring.half) == 8


@pytest.mark.parametrize("windings", [1, 2, 3])
def test_a_knot_takes_the_thread_of_its_spiral(windings: int) -> None:
    made = build(design_of("french_knot", "S8", params={"windings": windings}))
    pitch = float(made.laid.row_pitch[0])
    # Archimedean spiral of spacing p / 2, near enough 2 pi times its mean radius a winding; chords are a little less.
    wanted = 2 * np.pi * sum(pitch * (windings + 0.3 - k - 0.5) / 2 for k in range(windings))
    assert float(made.laid.length.sum()) == pytest.approx(wanted, rel=0.05)


def test_a_knot_never_crosses_itself() -> None:
    assert len(build(design_of("french_knot", "S8", rows="2 gold", params={"knots": 6})).crossings) == 0
