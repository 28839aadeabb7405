"""Named arcs of the marking: what spindles and other line work lie on.

In: words such as "line 3", "odd lines", "centre 1 to centre 2", "all centre to diamond".
Out: ``Arc`` records, each with both ends and a direction.
"""

import math
import re
from dataclasses import dataclass

import numpy as np

from polestitch.errors import DesignError
from polestitch.marking.address import COUNTED, KINDS, Place, leg, plural, point, spokes_at, tidied
from polestitch.marking.marking import Guideline, Marking, Point
from polestitch.marking.where import numbers
from polestitch.sphere.arcs import Points, arc_angle, cross, move, toward

_KIND = rf"(center|{'|'.join(COUNTED)})s?"
_EVERY = re.compile(rf"all (?:the )?{_KIND} to {_KIND}")
_OVER = re.compile(r"(.+?) over (.+?) to (.+)")
_LINES = re.compile(r"lines? ?(\d+(?:(?:,| and|, and| to) ?\d+)*)")
ROUNDING = 1e-6  # radians; neighbours of one kind are equally far apart to about 1e-15


@dataclass(frozen=True, eq=False)
class Arc:
    """A great-circle arc from ``start`` to ``end``, leaving in ``direction``; ``reach`` radians long."""

    name: str
    start: Place
    end: Place
    direction: Points  # (3,) unit tangent at start
    reach: float

    @property
    def normal(self) -> Points:
        """Normal about which the arc runs right-handedly; (3,)."""
        return np.asarray(cross(self.start.at, self.direction))


def arcs(marking: Marking, where: str | tuple[str, ...], path: str = "where") -> tuple[Arc, ...]:
    """Every arc that ``where`` names; ``DesignError`` at ``path`` for none or an unknown one.

    "line 3" is the whole half circle N to S, "line 3 of centre 4" runs to the first marked point,
    "obi 1 over N to obi 5" runs past N.
    """
    texts = (where,) if isinstance(where, str) else where
    found = tuple(arc for text in texts for arc in _named(marking, text, path))
    if not found:
        raise DesignError(path, 'no line is named; write "line 1", "all lines" or "centre 1 to centre 2"')
    return found


def _named(marking: Marking, text: str, path: str) -> tuple[Arc, ...]:
    words = tidied(text)
    every, lines = _EVERY.fullmatch(words), _LINES.fullmatch(words)
    count = len(marking.spokes["N"])
    sets = {"all lines": range(1, count + 1), "odd lines": range(1, count + 1, 2), "even lines": range(2, count + 1, 2)}
    if every:
        return _neighbours(marking, KINDS.get(every[1], every[1]), KINDS.get(every[2], every[2]), path)
    if words in sets or lines:
        chosen = sets[words] if words in sets else numbers(lines[1] if lines else "", path)
        return tuple(_half_circle(marking, number, path) for number in chosen)
    support = next((each for each in marking.guidelines if each.support and each.name.lower() == words), None)
    if support and support.offset == 0:
        return (_support(marking, support),)
    if words.startswith("all "):
        kinds = [f'"all {a} to {b}"' for a, b in (("centre", "centre"), ("centre", "triangle"), ("centre", "diamond"))]
        raise DesignError(path, f'"{text}" names no lines; write "all lines", "odd lines", {", ".join(kinds)}')
    over = _OVER.fullmatch(words)
    if over:
        return (_over(marking, (over[1], over[2], over[3]), path),)
    way = leg(marking, words, path)
    return (Arc(way.name, way.start, point(marking, way.end, path), way.direction, way.reach),)


def _over(marking: Marking, texts: tuple[str, str, str], path: str) -> Arc:
    """From the first spot past the second to the third, all three on one great circle."""
    first, between, last = (point(marking, text, path) for text in texts)
    name = f"{first.name} over {between.name} to {last.name}"
    here, there = float(arc_angle(first.at, between.at)), float(arc_angle(between.at, last.at))
    direction = toward(first.at, between.at)
    straight = arc_angle(move(first.at, direction, here + there), last.at) < ROUNDING
    if min(here, there) < ROUNDING or here + there > math.pi + ROUNDING or not straight:
        raise DesignError(path, f'"{name}" is not one straight line of at most half round; name three spots along one')
    return Arc(name, first, last, direction, min(here + there, math.pi))


def _support(marking: Marking, line: Guideline) -> Arc:
    """A support line from its first to its last end."""
    ahead = cross(line.normal, line.start)
    ends = [(f"start of {line.name}", line.start), (f"end of {line.name}", move(line.start, ahead, line.sweep))]
    first, last = (Place(name, at, spokes_at(marking, name, at)) for name, at in ends)
    return Arc(line.name, first, last, ahead, line.sweep)


def _half_circle(marking: Marking, number: int, path: str) -> Arc:
    """Line ``number`` from N to S."""
    way = leg(marking, f"line {number}", path)
    return Arc(way.name, way.start, point(marking, "S", path), way.direction, math.pi)


def _neighbours(marking: Marking, first: str, last: str, path: str) -> tuple[Arc, ...]:
    """Each pair of neighbours of the two kinds once: all that lie at the smallest distance there is."""
    starts, ends = _of_kind(marking, first, path), _of_kind(marking, last, path)
    at, to = np.array([p.at for p in starts]), np.array([p.at for p in ends])
    gaps = arc_angle(at[:, None], to[None])
    if first == last:
        gaps[np.tril_indices(len(starts))] = np.inf
    nearest = float(gaps.min())
    if not nearest < math.pi - ROUNDING:
        raise DesignError(path, f'the {plural(first)} of {marking.division} lie opposite each other; write "all lines"')
    rows = np.argwhere(gaps < nearest + ROUNDING).tolist()
    return tuple(_between(marking, starts[a].name, ends[b].name, path) for a, b in rows)


def _between(marking: Marking, first: str, last: str, path: str) -> Arc:
    start, end = point(marking, first, path), point(marking, last, path)
    reach = float(arc_angle(start.at, end.at))
    return Arc(f"{first} to {last}", start, end, toward(start.at, end.at), reach)


def _of_kind(marking: Marking, kind: str, path: str) -> list[Point]:
    found = [known for known in marking.by_name.values() if known.kind == kind]
    if not found:
        raise DesignError(path, f"{marking.division} has no {plural(kind)}")
    return found
