"""Addresses: the words by which a maker, a step or a chart names one spot of the marked ball.

In: text such as "N", "centre 4", "d7", "N to obi 3, 1/3", "line 3 of centre 4, 12 mm".
Out: a ``Place`` with the guidelines that leave it.  An address that is not there is a ``DesignError``
with the nearest names.

A fraction is of the arc named before the comma and counts from its first point, unless it says
"from edge" (the last point) or "from obi".
"""

import math
import re
from dataclasses import dataclass
from difflib import get_close_matches

import numpy as np

from polestitch.ball.ball import Ball
from polestitch.document.lengths import Length
from polestitch.errors import DesignError
from polestitch.marking.marking import Guideline, Marking, Spoke
from polestitch.sphere.arcs import Points, arc_angle, cross, move, toward
from polestitch.sphere.lines import NEAR, along, bearings

KINDS = {"c": "centre", "t": "triangle", "d": "diamond", "o": "obi", "center": "centre"}
_NUMBERED = re.compile(r"(centre|center|triangle|diamond|obi|[ctdo]) ?(\d{1,4})")
_ARC = re.compile(r"(?:from )?(?P<first>.+?) (?:to|towards?) (?P<last>.+)")
_LINE = re.compile(r"line ?(?P<number>\d{1,4})(?: of (?P<of>.+))?")
_FRACTION = re.compile(r"\d*\.?\d+(?: ?/ ?\d+)?")


@dataclass(frozen=True, eq=False)
class Place:
    """A spot with its speakable name; ``spokes`` are the guidelines that leave it, as at a marked point."""

    name: str
    at: Points  # (3,)
    spokes: tuple[Spoke, ...]


@dataclass(frozen=True, eq=False)
class Leg:
    """A way over the ball: from ``start`` in ``direction``, ``reach`` radians to the place named ``end``."""

    name: str  # "N to obi 3", "line 3"
    start: Place
    direction: Points  # (3,) unit tangent at start
    reach: float
    end: str


def address(marking: Marking, text: str, ball: Ball, path: str = "where") -> Place:
    """The spot that ``text`` names; ``DesignError`` at ``path`` where there is none."""
    way, comma, length = tidied(text).partition(",")
    if not comma:
        if (_ARC.fullmatch(way) and _point(marking, way) is None) or _LINE.fullmatch(way):
            raise DesignError(path, f'"{text}" is a line, not a spot; say how far along, such as "{text}, 1/3"')
        return point(marking, way, path)
    leg = _leg(marking, way.strip(), path)
    angle = _distance(leg, length.strip(), ball, path)
    at = move(leg.start.at, leg.direction, angle)
    at.setflags(write=False)
    name = f"{leg.name}, {length.strip()}"
    return Place(name, at, spokes_at(marking, name, at) or _two_ways(name, at, leg, angle))


def tidied(text: str) -> str:
    """``text`` with single spaces and no capitals but those of N and S, which are read either way."""
    return " ".join(text.split()).lower()


def point(marking: Marking, text: str, path: str = "where") -> Place:
    """The marked point (or obi spot, or corner of a support line) called ``text``."""
    place = _point(marking, tidied(text))
    if place is None:
        raise DesignError(path, _unknown(marking, tidied(text)))
    return place


def leg(marking: Marking, text: str, path: str = "where") -> Leg:
    """The way that "A to B", "line 3" or "line 3 of centre 4" names; a line runs to its first marked point."""
    return _leg(marking, tidied(text), path)


def _point(marking: Marking, name: str) -> Place | None:
    found = next((known for known in marking.by_name.values() if known.name.lower() == name), None)
    match = _NUMBERED.fullmatch(name)
    if found is None and match:
        kind, number = KINDS.get(match[1], match[1]), int(match[2])
        if kind == "obi":
            return _obi(marking, number)
        found = dict(enumerate(marking.of_kind(kind), 1)).get(number)
    if found is None:
        return None
    return Place(found.name, found.at, marking.spokes.get(found.name) or spokes_at(marking, found.name, found.at))


def _obi(marking: Marking, number: int) -> Place | None:
    """Where line ``number`` crosses the equator, on any marking."""
    if f"obi {number}" in marking.by_name:
        return _point(marking, f"obi {number}")
    lines = marking.spokes["N"]
    if not 1 <= number <= len(lines):
        return None
    at = lines[number - 1].direction
    near = arc_angle(marking.xyz, at) < NEAR
    there = marking.points[int(near.argmax())] if near.any() else None
    name = f"obi {number}"
    return _point(marking, there.name.lower()) if there else Place(name, at, spokes_at(marking, name, at))


def _leg(marking: Marking, text: str, path: str) -> Leg:
    line, arc = _LINE.fullmatch(text), _ARC.fullmatch(text)
    if line:
        return _line(marking, int(line["number"]), point(marking, line["of"] or "N", path), path)
    if not arc:
        raise DesignError(path, f'"{text}" is no line; write "N to obi 3, 1/3" or "line 3 of centre 4, 12 mm"')
    first, last = point(marking, arc["first"], path), point(marking, arc["last"], path)
    gap = float(arc_angle(first.at, last.at))
    if gap < NEAR:
        raise DesignError(path, f"{first.name} and {last.name} are the same spot; name two different ones")
    if gap > math.pi - NEAR:
        raise DesignError(path, f'{first.name} and {last.name} lie opposite; name the line to follow, such as "line 1"')
    return Leg(f"{first.name} to {last.name}", first, toward(first.at, last.at), gap, last.name)


def _line(marking: Marking, number: int, of: Place, path: str) -> Leg:
    if not 1 <= number <= len(of.spokes):
        lines = f"has lines 1 to {len(of.spokes)}" if of.spokes else "has no lines"
        raise DesignError(path, f"there is no line {number} of {of.name}; it {lines}")
    spoke = of.spokes[number - 1]
    name = f"line {number}" if of.name == "N" else spoke.name
    return Leg(name, of, spoke.direction, spoke.reach, spoke.end)


def _distance(leg: Leg, text: str, ball: Ball, path: str) -> float:
    """Radians from the leg's start; on "A to B" no farther than B, on a line up to half round."""
    length = _length(text, path)
    reach, from_end = leg.reach, length.origin == "edge"
    if length.origin == "line":
        raise DesignError(path, f'"{text}" does not say which end it counts from; write "from centre" or "from edge"')
    if length.origin == "obi":
        reach, from_end = _to_obi(leg, path)
    angle = length.value * reach if length.mm is None else ball.angle(length.mm)
    angle = reach - angle if from_end else angle
    farthest = math.pi if leg.name.startswith("line") else reach
    if not -NEAR <= angle <= farthest + NEAR:
        raise DesignError(path, f'"{text}" leaves {leg.name}, which is {ball.mm(farthest):.1f} mm long on this ball')
    return angle


def _to_obi(leg: Leg, path: str) -> tuple[float, bool]:
    """The part of the leg that ends (or starts) at the obi, and whether the obi is its end."""
    if abs(leg.start.at[2]) < NEAR:
        return leg.reach, False
    ends_there = abs(move(leg.start.at, leg.direction, leg.reach)[2]) < NEAR
    if ends_there or leg.start.name in {"N", "S"}:
        return (leg.reach if ends_there else math.pi / 2), True
    raise DesignError(path, f'{leg.name} does not end at the obi; count "from centre" or "from edge"')


def _length(text: str, path: str) -> Length:
    fraction = _FRACTION.fullmatch(text)
    try:
        return Length(text.replace(" ", "") + " from centre" if fraction else text)
    except ValueError as error:
        raise DesignError(path, str(error)) from None


def spokes_at(marking: Marking, name: str, at: Points) -> tuple[Spoke, ...]:
    """Half-lines of the guidelines through ``at``, numbered as at a marked point; empty off the guidelines.

    Rings are left out: they go nowhere but round.
    """
    ways = []
    for line in _through(marking, at):
        ways += [(line.normal, cross(line.normal, at)), (-line.normal, -cross(line.normal, at))]
    order = sorted(ways, key=lambda way: (float(bearings(at, way[1])) + math.pi / len(ways) - NEAR) % (2 * math.pi))
    return tuple(_spoke(marking, name, at, number, way) for number, way in enumerate(order, 1))


def _through(marking: Marking, at: Points) -> list[Guideline]:
    """The guidelines that pass ``at``, rings left out."""
    flat = [line for line in marking.guidelines if line.offset == 0]
    near = np.abs(np.array([line.normal for line in flat]) @ at) < NEAR
    on = [line for line, passes in zip(flat, near) if passes]
    return [line for line in on if float(along(line.normal, line.start, at)) < line.sweep + NEAR]


def _spoke(marking: Marking, name: str, at: Points, number: int, way: tuple[Points, Points]) -> Spoke:
    normal, direction = way
    names, spots = list(marking.by_name), np.array([spot.at for spot in marking.by_name.values()])
    gaps = np.where(np.abs(spots @ normal) < NEAR, along(normal, at, spots), 0.0)
    gaps = np.where(gaps > NEAR, gaps, 2 * math.pi)  # a spot reached only after a whole round is the spot itself
    first = int(gaps.argmin())
    reach = float(gaps[first])
    direction.setflags(write=False)
    return Spoke(number, f"line {number} of {name}", direction, reach, names[first] if reach < 2 * math.pi else name)


def _two_ways(name: str, at: Points, leg: Leg, angle: float) -> tuple[Spoke, ...]:
    """On an arc that is no guideline: both ways along it, the one that heads for N first."""
    ahead = np.cos(angle) * leg.direction - np.sin(angle) * leg.start.at
    ways = [(ahead, leg.reach - angle, leg.end), (-ahead, angle, leg.start.name)]
    ways = sorted(ways, key=lambda way: abs(float(bearings(at, way[0]))))
    return tuple(Spoke(k, f"line {k} of {name}", *way) for k, way in enumerate(ways, 1))


def _unknown(marking: Marking, name: str) -> str:
    """One sentence: what is not there, and what is."""
    match = _NUMBERED.fullmatch(name)
    kind = KINDS.get(match[1], match[1]) if match else ""
    count = len(marking.spokes["N"]) if kind == "obi" else len(marking.of_kind(kind))
    if match and count:
        return f"there is no {kind} {match[2]}; {marking.division} has {plural(kind)} 1 to {count}"
    if match:
        return f"{marking.division} has no {plural(kind)}; it has {kinds_said(marking)}"
    close = get_close_matches(name, {known.lower(): known for known in marking.by_name}, n=3)
    named = {known.lower(): known for known in marking.by_name}
    hint = " or ".join(f'"{named[known]}"' for known in close) or kinds_said(marking)
    return f'nothing is called "{name[:40]}" on {marking.division}; there is {hint}'


def plural(kind: str) -> str:
    """More than one of ``kind``, as a maker says it."""
    return "obi points" if kind == "obi" else f"{kind}s"


def kinds_said(marking: Marking) -> str:
    """The kinds of points this marking has, with their numbers."""
    counts = {kind: len(marking.of_kind(kind)) for kind in ("centre", "triangle", "diamond", "obi")}
    return ", ".join(f"{plural(kind)} 1 to {count}" for kind, count in counts.items() if count)
