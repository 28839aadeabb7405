"""Oblique lines between two rings, a marking that comes out again, and pins without a marking thread."""

import math

import pytest

from polestitch.ball.ball import Ball
from polestitch.document.design import Design, Support
from polestitch.errors import DesignError
from polestitch.marking.divisions import marked
from polestitch.marking.support import supported
from polestitch.picture.subject import subject
from polestitch.pipeline import build
from polestitch.sphere.arcs import arc_angle
from polestitch.steps.instructions import instructions
from polestitch.workup import workup

BALL = Ball(250.0)


def rings(step: int, corners: int = 5, south: int = 5) -> tuple[Support, ...]:
    """Polygons 2 cm from both poles and oblique lines between them."""
    every = [
        {"name": "upper", "around": "N", "at": "20 mm", "corners": corners},
        {"name": "lower", "around": "S", "at": "20 mm", "corners": south},
        {"name": "slant", "between": ["upper", "lower"], "step": step},
    ]
    return tuple(Support.model_validate(one) for one in every)


@pytest.mark.parametrize("step", [1, 2])
def test_oblique_lines_run_from_each_corner_to_the_one_further_on(step: int) -> None:
    marking = supported(marked("S5"), rings(step), BALL)
    slants = [line for line in marking.guidelines if line.name.startswith("slant ")]
    assert len(slants) == 5
    # spherical law of cosines: corners 20 mm from opposite poles, step fifths of a turn apart
    r, turn = BALL.angle(20.0), 2 * math.pi * step / 5
    gap = math.acos(-(math.cos(r) ** 2) + math.sin(r) ** 2 * math.cos(turn))
    assert [line.sweep for line in slants] == pytest.approx([gap] * 5)
    assert float(arc_angle(slants[0].start, marking.by_name["upper 1"].at)) < 1e-12


@pytest.mark.parametrize(("support", "said"), [(rings(1, 5, 10), "equally many"), (rings(3, 6, 6), "lie opposite")])
def test_rings_that_do_not_answer_each_other_are_refused(support: tuple[Support, ...], said: str) -> None:
    division = "S30" if "equally" in said else "S6"
    with pytest.raises(DesignError, match=said):
        supported(marked(division), support, BALL)


def ball(**marking: object) -> Design:
    """A ball with one plain layer."""
    return Design.model_validate(
        {
            "format": 1,
            "name": "Pier light",
            "ball": {"around": "25 cm"},
            "threads": [{"name": "white", "colour": "#ffffff"}],
            "marking": {"division": "S8", **marking},
            "layers": [{"name": "one", "technique": "uwagake", "where": "N", "rows": "2 white"}],
        }
    )


def test_a_marking_that_comes_out_is_laid_but_not_in_the_picture() -> None:
    kept, removed = workup(build(ball())), workup(build(ball(removed=True)))
    assert subject(kept.build).marking is not None
    assert subject(removed.build).marking is None
    assert removed.way.mm == kept.way.mm
    said = [line.text for line in instructions(removed.build, removed.pins, removed.way).of("finish")]
    assert any("Snip the marking lines" in text for text in said)


def test_pins_without_thread_take_none() -> None:
    bare = workup(build(ball(laid=False)))
    assert bare.way.mm == 0
    assert bare.way.tacks == ()
    assert subject(bare.build).marking is None
    assert bare.pins == workup(build(ball())).pins


def test_documents_that_do_not_say_are_as_before() -> None:
    spec = ball().marking
    assert (spec.removed, spec.laid) == (False, True)
