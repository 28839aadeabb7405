"""The marking thread's way: in as few pieces as can be, straight through crossings where it can.

In: a marking and the ball.  Out: ``Route`` records, the shortest-handed one and the traditional one.

A great circle followed once round is a closed trail, so circles are joined by turning only at a few
points: all circles through N one after the other, then, at the point on the way where most circles
still wait, all of those, and so on.  Half circles (odd divisions) zigzag from N to S and back.
No line is laid twice.
"""

import math
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from polestitch.ball.ball import Ball
from polestitch.marking.marking import Guideline, Marking, Point
from polestitch.sphere.arcs import Points, arc_angle
from polestitch.sphere.lines import NEAR, along
from polestitch.sphere.rotations import turn_about

END_MM = 40.0  # run under the wrap at each end; 25 to 50 mm is common practice


@dataclass(frozen=True)
class Step:
    """From one marked point to the next on a guideline."""

    start: str
    end: str
    line: str


@dataclass(frozen=True)
class Run:
    """Thread laid straight along one guideline, past ``points`` from the first to the last."""

    line: str
    points: tuple[str, ...]


@dataclass(frozen=True)
class Piece:
    """One thread: its runs in order; ``mm`` counts both ends, run under the wrap."""

    runs: tuple[Run, ...]
    laid_mm: float
    mm: float


@dataclass(frozen=True)
class Route:
    """All pieces of one way to lay the marking, and the points to tack, in order."""

    pieces: tuple[Piece, ...]
    support: tuple[Piece, ...]  # support lines, each a thread of its own
    tacks: tuple[str, ...]

    @cached_property
    def mm(self) -> float:
        """Marking thread to cut, support lines too."""
        return sum(piece.mm for piece in (*self.pieces, *self.support))

    @cached_property
    def laid_mm(self) -> float:
        """Marking thread that lies on the ball."""
        return sum(piece.laid_mm for piece in (*self.pieces, *self.support))

    @cached_property
    def turns(self) -> int:
        """How often the thread leaves one guideline for another."""
        return sum(len(piece.runs) - 1 for piece in self.pieces)


def thread_route(marking: Marking, ball: Ball, end_mm: float = END_MM) -> Route:
    """The way with the fewest pieces: one, for every division there is."""
    groups = _groups(marking)
    trail = list(groups[0][1])
    for hub, steps in groups[1:]:
        at = max(n for n, step in enumerate(trail) if step.start == hub)
        trail[at:at] = steps
    return _route(marking, ball, [trail], end_mm)


def traditional_route(marking: Marking, ball: Ball, end_mm: float = END_MM) -> Route:
    """A thread for the lines of N, another for the obi or for each new centre taken as pole.

    Published: http://www.temarikai.com/HowToPages/10combinationdivIntro.html, and common practice.
    """
    return _route(marking, ball, [steps for _, steps in _groups(marking)], end_mm)


def _route(marking: Marking, ball: Ball, trails: list[list[Step]], end_mm: float) -> Route:
    lengths = _step_angles(marking)
    pieces = tuple(
        _piece(_runs(trail), ball.mm(sum(lengths[step.start, step.end, step.line] for step in trail)), end_mm)
        for trail in trails
    )
    return Route(pieces, _support_pieces(marking, ball, end_mm), tack_order(marking))


def _piece(runs: list[Run], laid_mm: float, end_mm: float) -> Piece:
    return Piece(tuple(runs), laid_mm, laid_mm + 2 * end_mm)


def tack_order(marking: Marking) -> tuple[str, ...]:
    """Points by ways, most first, then from N down: a centre holds all the lines that cross near it."""
    ordered = sorted(marking.points, key=lambda known: -known.ways)
    return tuple(known.name for known in ordered)


def _stops(marking: Marking, line: Guideline) -> list[tuple[float, Point]]:
    """The marked points on a laid guideline with their angle from its start, in order."""
    on = [known for known in marking.points if abs(float(line.normal @ known.at)) < NEAR]
    angles = along(line.normal, line.start, np.array([known.at for known in on]))
    kept = [(float(angle), known) for angle, known in zip(angles, on) if angle < line.sweep + NEAR]
    return sorted(kept, key=lambda stop: stop[0])


def _trail(marking: Marking, line: Guideline) -> list[Step]:
    """One guideline from its start to its end, or once round."""
    names = [known.name for _, known in _stops(marking, line)]
    ends = names[1:] + (names[:1] if line.sweep > math.pi + NEAR else [])
    return [Step(start, end, line.name) for start, end in zip(names, ends)]


def _from(trail: list[Step], hub: str) -> list[Step]:
    """A closed trail begun at ``hub``."""
    at = next(n for n, step in enumerate(trail) if step.start == hub)
    return trail[at:] + trail[:at]


def _groups(marking: Marking) -> list[tuple[str, list[Step]]]:
    """Trails joined at the point where the thread turns from one to the next; every guideline once."""
    laid = [line for line in marking.guidelines if not line.support]
    waiting = {line.name: _trail(marking, line) for line in laid}
    halves = [line.name for line in laid if line.sweep < math.pi + NEAR]
    first = _zigzag([waiting.pop(name) for name in halves]) if halves else _taken(waiting, "N")
    groups = [("N", first)]
    while waiting:
        hub = _next_hub(marking, [step.start for _, steps in groups for step in steps], waiting)
        groups.append((hub, _taken(waiting, hub)))
    return groups


def _next_hub(marking: Marking, passed: list[str], waiting: dict[str, list[Step]]) -> str:
    """Of the points passed the one where most lines wait; of those the first to tack, centres before others.

    On the obi the last passed, since the obi is laid when all lines are.
    """
    last = {name: n for n, name in enumerate(passed)}
    worth = {name: sum(_passes(trail, name) for trail in waiting.values()) for name in last}
    early = {name: -n for n, name in enumerate(tack_order(marking))}
    late = {name: last[name] if marking.by_name[name].kind == "obi" else early[name] for name in last}
    return max(last, key=lambda name: (worth[name], marking.by_name[name].ways, late[name]))


def _zigzag(trails: list[list[Step]]) -> list[Step]:
    """Half circles down and up in turn."""
    back = [[Step(step.end, step.start, step.line) for step in reversed(trail)] for trail in trails]
    return [step for n, (down, up) in enumerate(zip(trails, back)) for step in (up if n % 2 else down)]


def _passes(trail: list[Step], name: str) -> bool:
    return any(step.start == name for step in trail)


def _taken(waiting: dict[str, list[Step]], hub: str) -> list[Step]:
    """All waiting circles through ``hub``, one after the other, taken out of ``waiting``."""
    names = [name for name, trail in waiting.items() if _passes(trail, hub)]
    return [step for name in names for step in _from(waiting.pop(name), hub)]


def _runs(trail: list[Step]) -> list[Run]:
    """Steps joined where they follow one guideline."""
    runs: list[list[Step]] = []
    for step in trail:
        if runs and runs[-1][-1].line == step.line and runs[-1][-1].end == step.start:
            runs[-1].append(step)
        else:
            runs.append([step])
    return [Run(run[0].line, (run[0].start, *(step.end for step in run))) for run in runs]


def _step_angles(marking: Marking) -> dict[tuple[str, str, str], float]:
    """Radians of every step, in both directions."""
    angles: dict[tuple[str, str, str], float] = {}
    for line in marking.guidelines:
        stops = [] if line.support else _stops(marking, line)
        whole = [(stops[0][0] + 2 * math.pi, stops[0][1])] if stops and line.sweep > math.pi + NEAR else []
        for (start, one), (end, other) in zip(stops, stops[1:] + whole):
            angles[one.name, other.name, line.name] = angles[other.name, one.name, line.name] = end - start
    return angles


def _support_pieces(marking: Marking, ball: Ball, end_mm: float) -> tuple[Piece, ...]:
    """Support lines; sides of one polygon are one thread."""
    pieces: list[list[Guideline]] = []
    for line in (each for each in marking.guidelines if each.support):
        if pieces and _goes_on(pieces[-1][-1], line):
            pieces[-1].append(line)
        else:
            pieces.append([line])
    laid = [sum(line.sweep * math.sqrt(1 - line.offset**2) for line in lines) for lines in pieces]
    runs = [[Run(line.name, ()) for line in lines] for lines in pieces]
    return tuple(_piece(run, ball.mm(angle), end_mm) for run, angle in zip(runs, laid))


def _goes_on(line: Guideline, after: Guideline) -> bool:
    """Whether ``after`` is the next side of the polygon that ``line`` is a side of."""
    same = line.name.rpartition(" ")[0] == after.name.rpartition(" ")[0] != ""
    return same and float(arc_angle(_end(line), after.start)) < NEAR


def _end(line: Guideline) -> Points:
    return np.asarray(turn_about(line.normal, line.sweep) @ line.start)
