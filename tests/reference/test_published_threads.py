"""How much thread all-over balls take, against the plain sum of single-layer cover and against published skeins.

A layer of thread of width p over a ball of circumference C is C^2 / (pi p) long: the ball's area over the width.
A skein of size 5 is 25 yards (http://www.japanesetemari.com/Kyo/Kyo-1.1.html).
"""

from typing import Any

import numpy as np
import pytest

from polestitch.pipeline import Build
from tests.builds import built

PITCH_MM = 10 / 14  # of the tests' thread: 0.71 mm, a published gauge of size 5
SKEIN_M = 22.86


def ball(around_mm: int, division: str, *layers: dict[str, Any]) -> Build:
    return built(*layers, division=division, ball={"around": f"{around_mm} mm"})


def swirl_ball() -> Build:
    """Fourteen faces (published, http://temarikai.com/PatternsPages/Simple/GT11.html), 25 cm, one colour."""
    four = {"technique": "swirl", "where": "all centres", "rows": "4 navy", "params": {"corners": 4}}
    six = {"technique": "swirl", "where": "all faces", "rows": "5 navy", "params": {"corners": 6}}
    return ball(250, "C8/14", four, six)


def kousa_ball() -> Build:
    """Pentagons round all centres and triangles between, layered all over, on 32 cm."""
    like = {"combine": "layered", "together": "all over"}
    five = {"technique": "polygon", "where": "all centres", "rows": "18 navy", "params": {"corners": 5, "at": "3 mm"}}
    three = {
        "technique": "polygon",
        "where": "all triangles",
        "rows": "16 white",
        "params": {"corners": 3, "at": "4 mm"},
    }
    return ball(320, "C10", five | like, three | like)


def layers_thick(made: Build) -> float:
    """Laid thread, as a share of what one layer over the whole ball takes."""
    around = made.ball.around_mm
    return made.ball.mm(float(made.laid.length.sum())) / (around**2 / (np.pi * PITCH_MM))


@pytest.mark.parametrize("made", [swirl_ball, kousa_ball])
@pytest.mark.slow
def test_the_thickness_seen_is_thread_laid_over_single_layer_cover(made: Any) -> None:
    one = made()
    depth = one.cover.depth_share
    seen = float(depth @ np.arange(len(depth)))
    # A row that passes over itself at a bite is seen once and laid twice: a few hundredths.
    assert 0.92 * layers_thick(one) < seen < 1.005 * layers_thick(one)
    assert layers_thick(one) > one.cover.share


def test_a_swirl_ball_of_one_colour_is_open_work_and_takes_less_than_a_skein() -> None:
    made = swirl_ball()
    metres = made.ball.mm(float(made.laid.length.sum())) / 1000
    assert 0.1 < layers_thick(made) < 1  # the dark wrap shows between its blades: published as one bright colour on it
    assert metres < SKEIN_M


def test_the_layered_all_over_takes_less_than_the_published_six_skeins_with_figures_and_background() -> None:
    # Six skeins for an all-over layered C10 of 32 cm (http://www.temarikai.com/PatternsPages/C10/JZ11.html):
    # about three layers, of which this is one of its grounds.
    made = kousa_ball()
    metres = made.ball.mm(float(made.laid.length.sum())) / 1000
    assert 6 * SKEIN_M / (320**2 / (np.pi * PITCH_MM) / 1000) == pytest.approx(3.0, abs=0.05)
    assert 0.2 < metres / (6 * SKEIN_M) < 1
