"""Balls for tests of laid thread."""

from polestitch.ball.ball import Ball
from polestitch.document.design import Design

AROUND_MM = 250.0


def ball_of_design(design: Design) -> Ball:
    """The planned ball of a design."""
    mm = design.ball.around.mm
    assert mm is not None
    return Ball(mm)
