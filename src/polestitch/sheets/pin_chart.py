"""The pin plan as a chart: both halves of the ball, every pin numbered in the order it goes in.

In: a marking and its pin plan.  Out: a block as wide as the page.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from polestitch.marking.address import point
from polestitch.marking.marking import Marking
from polestitch.marking.pins import Pin
from polestitch.sheets.blocks import Block
from polestitch.sheets.curves import guide_curve, paths
from polestitch.sheets.lenses import FlatLens
from polestitch.sheets.lettering import text_box, width_mm
from polestitch.sheets.placing import Room, beside
from polestitch.sheets.sheet import BRASS, INK, QUIET, WHITE, Circle, Face, Mark, Pen, Text, moved, rectangle
from polestitch.sphere.arcs import Points

NORTH, LINE_1 = np.array([0.0, 0.0, 1.0]), np.array([1.0, 0.0, 0.0])
DISC = 1.75


@dataclass(frozen=True, eq=False)
class Half:
    """One half of the ball, seen from its pole."""

    name: str
    lens: FlatLens
    radius: float


def pin_chart(marking: Marking, pins: Sequence[Pin], width: float) -> Block:
    """N and S halves side by side; pins at the rim stand on both."""
    radius = (width - 30.0) / 4
    marks: list[Mark] = []
    for name, pole, x in (("N", NORTH, radius + 6.5), ("S", -NORTH, width - radius - 6.5)):
        half = Half(name, FlatLens(pole, LINE_1, radius / (math.pi / 2), math.pi / 2), radius)
        marks += moved(_half(marking, pins, half), x, radius + 7.0)
    return Block(2 * radius + 20.0, tuple(marks))


def _half(marking: Marking, pins: Sequence[Pin], half: Half) -> list[Mark]:
    marks: list[Mark] = [Circle(0.0, 0.0, half.radius, Pen(INK, 0.3), WHITE)]
    for line in marking.guidelines:
        marks += paths(guide_curve(line), half.lens, Pen(BRASS, 0.13, (1.2, 0.8) if line.support else ()))
    room = Room()
    discs = _discs(marking, pins, half, room)
    marks += _names(marking, pins, half, room)
    caption = Text(
        0.0, half.radius + 9.5, f"The half round {half.name}, seen from {half.name}", "sans", 7.5, "middle", QUIET
    )
    return [*marks, *discs, *line_numbers(marking, half, room), caption]


def _spot(half: Half, at: Points) -> tuple[float, float]:
    x, y = half.lens.paper(at[None])[0].tolist()
    return x, y


def _seen(marking: Marking, pins: Sequence[Pin], half: Half) -> list[tuple[int, Pin, tuple[float, float]]]:
    """Number, pin and place on paper of the pins on this half."""
    found = []
    for number, pin in enumerate(pins, 1):
        at = point(marking, pin.point).at
        if bool(half.lens.shows(at[None])[0]):
            found.append((number, pin, _spot(half, at)))
    return found


def _discs(marking: Marking, pins: Sequence[Pin], half: Half, room: Room) -> list[Mark]:
    """A disc for each pin with its number; helper pins are open."""
    marks: list[Mark] = []
    for number, pin, (x, y) in _seen(marking, pins, half):
        fill, ink = (WHITE, BRASS) if pin.helper else (BRASS, WHITE)
        marks.append(Circle(x, y, DISC, Pen(BRASS, 0.25), fill))
        marks.append(room.take(Text(x, y + 0.8, str(number), "sans bold", 6.5, "middle", ink)))
    return marks


def _names(marking: Marking, pins: Sequence[Pin], half: Half, room: Room) -> list[Mark]:
    """Names beside the pins that stand inside the half; those on the rim are told by their lines."""
    marks: list[Mark] = []
    for _, pin, (x, y) in _seen(marking, pins, half):
        if math.hypot(x, y) > half.radius - 1.0:
            continue
        aside = DISC + 0.8 + width_mm(pin.point, "sans", 7) / 2
        ways = ((0.0, -3.2), (0.0, 3.2), (aside, 0.0), (-aside, 0.0), (aside, 2.4), (-aside, 2.4), (0.0, 4.4))
        found = room.first_free(beside(Text(0, 0, pin.point, "sans", 7), (x, y), ways, np.zeros((0, 2))))
        if found is not None:
            left, top, right, bottom = text_box(found)
            marks += [rectangle((left - 0.3, top - 0.2, right + 0.3, bottom), None, WHITE), found]
    return marks


def line_numbers(marking: Marking, half: Half, room: Room) -> list[Mark]:
    """Line numbers outside the rim."""
    marks: list[Mark] = []
    for spoke in marking.spokes["N"]:
        x, y = _spot(half, spoke.direction)
        far = (half.radius + (4.4 if spoke.number > 1 else 4.0)) / math.hypot(x, y)
        words = f"line {spoke.number}" if spoke.number == 1 else str(spoke.number)
        face: Face = "sans bold" if spoke.number == 1 else "sans"
        mark = Text(x * far, y * far + 0.9, words, face, 7.5, "middle", BRASS)
        if room.free(mark):
            marks.append(room.take(mark))
    return marks
