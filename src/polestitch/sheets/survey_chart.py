"""Surveyed pins as a chart: both halves of the ball, an arrow at every pin to move, lines where to measure.

In: a marking and a survey of its pins.  Out: a block as wide as the page, and by how much its arrows are drawn longer.
"""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from polestitch.marking.marking import Marking
from polestitch.sheets.blocks import Block
from polestitch.sheets.curves import Curve, guide_curve, paths
from polestitch.sheets.lenses import FlatLens
from polestitch.sheets.lettering import text_box, width_mm
from polestitch.sheets.pin_chart import LINE_1, NORTH, Half, line_numbers
from polestitch.sheets.placing import Room, beside
from polestitch.sheets.sheet import (
    BRASS,
    HAIR,
    INK,
    QUIET,
    WHITE,
    Circle,
    Line,
    Mark,
    Pen,
    Text,
    moved,
    polygon,
    rectangle,
)
from polestitch.sphere.arcs import Points, arc_angle, cross, unit
from polestitch.survey.survey import Survey

LONGEST_ARROW, HEAD = 11.0, 1.5
TIMES = (20, 10, 5, 3, 2, 1)
PIN, MOVED = 0.75, 1.75
AGAIN, NEXT = Pen(INK, 0.35, (0.5, 0.8), "round"), Pen(INK, 0.25, (2.2, 1.2))
Pairs = Sequence[tuple[str, str]]


@dataclass(frozen=True, eq=False)
class Surveyed:
    """A survey laid the way the marking pages lie."""

    marking: Marking
    found: Survey

    @cached_property
    def index(self) -> dict[str, int]:
        """Row of each pin."""
        return {name: k for k, name in enumerate(self.found.names)}

    @property
    def at(self) -> Points:
        """(n, 3) where the pins are."""
        return self.found.laid[0]

    @property
    def target(self) -> Points:
        """(n, 3) where they ought to be."""
        return self.found.laid[1]

    @property
    def again(self) -> Pairs:
        """Readings to take again."""
        return [(one.reading.first, one.reading.second) for one in self.found.judged if one.misread]

    @property
    def next(self) -> Pairs:
        """Readings to take next."""
        return [(one.first, one.second) for one in self.found.next]


def times_longer(told: Surveyed, width: float) -> int:
    """How many times longer than on the map arrows are drawn: the longest stays readable."""
    longest = max((move.mm for move in told.found.moves), default=1.0) * _paper_scale(told, width)
    return next((times for times in TIMES if times * longest <= LONGEST_ARROW), 1)


def survey_chart(told: Surveyed, width: float) -> Block:
    """N and S halves side by side; pins at the rim stand on both."""
    radius, times = _radius(width), times_longer(told, width)
    marks: list[Mark] = []
    for name, pole, x in (("N", NORTH, radius + 6.5), ("S", -NORTH, width - radius - 6.5)):
        half = Half(name, FlatLens(pole, LINE_1, radius / (math.pi / 2), math.pi / 2), radius)
        marks += moved(_half(told, half, times * _paper_scale(told, width)), x, radius + 7.0)
    return Block(2 * radius + 20.0, tuple(marks))


def _radius(width: float) -> float:
    return (width - 30.0) / 4


def _paper_scale(told: Surveyed, width: float) -> float:
    """Paper mm for a mm on the ball."""
    return _radius(width) / (math.pi / 2) / told.found.network.size_mm


def _half(told: Surveyed, half: Half, arrow_scale: float) -> list[Mark]:
    marks: list[Mark] = [Circle(0.0, 0.0, half.radius, Pen(INK, 0.3), WHITE)]
    for line in told.marking.guidelines:
        marks += paths(guide_curve(line), half.lens, Pen(HAIR, 0.18))
    for pairs, pen in ((told.again, AGAIN), (told.next, NEXT)):
        for pair in pairs:
            marks += _between(told, half, pair, pen)
    room = Room()
    marks += _standing(told, half)
    marks += _moving(told, half, arrow_scale, room)
    marks += _names(told, half, room)
    caption = Text(
        0.0, half.radius + 9.5, f"The half round {half.name}, seen from {half.name}", "sans", 7.5, "middle", QUIET
    )
    return [*marks, *line_numbers(told.marking, half, room), caption]


def _between(told: Surveyed, half: Half, pair: tuple[str, str], pen: Pen) -> list[Mark]:
    if not all(name in told.index for name in pair):
        return []
    first, second = (told.target[told.index[name]] for name in pair)
    sweep = float(arc_angle(first, second))
    if not 1e-3 < sweep < math.pi - 1e-3:
        return []
    return list(paths(Curve(unit(cross(first, second)), 0.0, first, sweep), half.lens, pen))


def _spot(half: Half, at: Points) -> tuple[float, float]:
    x, y = half.lens.paper(at[None])[0].tolist()
    return x, y


def _seen(told: Surveyed, half: Half) -> Iterator[tuple[str, int]]:
    for name, k in told.index.items():
        if bool(half.lens.shows(told.target[k][None])[0]):
            yield name, k


def _standing(told: Surveyed, half: Half) -> list[Mark]:
    """A small ring for a pin that stays, a cross for one of which nothing is known."""
    marks: list[Mark] = []
    moving = {move.point for move in told.found.moves}
    for name, k in _seen(told, half):
        x, y = _spot(half, told.target[k])
        if not told.found.turned.known[k]:
            marks += [Line(x - 0.9, y - 0.9, x + 0.9, y + 0.9, Pen(INK, 0.25))]
            marks += [Line(x - 0.9, y + 0.9, x + 0.9, y - 0.9, Pen(INK, 0.25))]
        elif name not in moving:
            marks.append(Circle(x, y, PIN, Pen(BRASS, 0.25), WHITE))
    return marks


def _moving(told: Surveyed, half: Half, arrow_scale: float, room: Room) -> list[Mark]:
    """A disc with the move's number, and an arrow the way the pin must go."""
    marks: list[Mark] = []
    for number, move in enumerate(told.found.moves, 1):
        k = told.index[move.point]
        if not bool(half.lens.shows(told.target[k][None])[0]):
            continue
        x, y = _spot(half, told.at[k])
        way = np.subtract(_spot(half, told.target[k]), (x, y))
        size = float(np.hypot(*way)) or 1.0
        ahead = (float(way[0]) / size, float(way[1]) / size)
        leaves = math.hypot(x, y) > half.radius - 2.5 and x * ahead[0] + y * ahead[1] > 0.1 * half.radius
        if not leaves:  # an arrow over the rim is drawn on the other half, into which it leads
            marks += _arrow((x, y), ahead, MOVED + max(move.mm * arrow_scale, HEAD + 0.4))
        marks.append(Circle(x, y, MOVED, Pen(BRASS, 0.25), BRASS))
        marks.append(room.take(Text(x, y + 0.8, str(number), "sans bold", 6.5, "middle", WHITE)))
    return marks


def _arrow(start: tuple[float, float], ahead: tuple[float, float], length: float) -> list[Mark]:
    (x, y), (dx, dy) = start, ahead
    tip = (x + dx * length, y + dy * length)
    back = (tip[0] - dx * HEAD, tip[1] - dy * HEAD)
    side = HEAD * 0.45
    wings = ((back[0] - dy * side, back[1] + dx * side), (back[0] + dy * side, back[1] - dx * side))
    return [Line(x, y, back[0], back[1], Pen(INK, 0.5)), polygon((tip, *wings), None, INK)]


def _names(told: Surveyed, half: Half, room: Room) -> list[Mark]:
    """Names of the pins to move and of the poles first, then of the others where there is room."""
    moving = [move.point for move in told.found.moves]
    order = dict.fromkeys(["N", "S", *moving, *told.index])
    seen = dict(_seen(told, half))
    marks: list[Mark] = []
    for name in (each for each in order if each in seen):
        x, y = _spot(half, told.at[seen[name]] if name in moving else told.target[seen[name]])
        if math.hypot(x, y) > half.radius - 1.0:
            continue
        aside = MOVED + 0.8 + width_mm(name, "sans", 7) / 2
        ways = ((0.0, -3.0), (0.0, 4.2), (aside, 0.9), (-aside, 0.9), (aside, -2.0), (-aside, -2.0))
        found = room.first_free(beside(Text(0, 0, name, "sans", 7), (x, y), ways, np.zeros((0, 2))))
        if found is not None:
            left, top, right, bottom = text_box(found)
            marks += [rectangle((left - 0.2, top - 0.1, right + 0.2, bottom), None, WHITE), found]
    return marks
