"""A ball with nothing on it yet is a ball: every stage and product has an answer for it."""

from polestitch.document.design import Design
from polestitch.pipeline import build
from polestitch.workup import workup

BARE = {
    "name": "bare",
    "ball": {"around": "24 cm"},
    "threads": [{"name": "white", "colour": "#ffffff"}],
    "marking": {"division": "C10"},
}


def test_a_bare_ball_has_no_crossings_and_no_cover() -> None:
    made = build(Design.model_validate(BARE))
    assert len(made.crossings) == 0
    assert made.cover.share == 0
    assert workup(made).estimate.threads[0].laid_mm == 0
