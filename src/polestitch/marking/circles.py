"""Named great circles: what wrapped bands follow.

In: words such as "obi", "circle 3", "line 1-5", "all circles", "all equators".
Out: ``Circle`` records with the spots a band passes on its way.
"""

import math
import re
from dataclasses import dataclass
from difflib import get_close_matches

import numpy as np

from polestitch.errors import DesignError
from polestitch.marking.address import tidied
from polestitch.marking.marking import Guideline, Marking
from polestitch.sphere.arcs import Points, dot
from polestitch.sphere.lines import NEAR, along, meeting

_EQUATORS = re.compile(r"(?:all|the(?: \d+)?) equators(?: of the centres)?")
_EQUATOR = re.compile(r"equator of (.+)")
_LINE = re.compile(r"line ?(\d+)")


@dataclass(frozen=True, eq=False)
class Stop:
    """A spot on a circle: a marked point, or where a guideline crosses it."""

    name: str  # "obi 3", "centre 4", or the crossing guideline: "line 2", "circle 7"
    azimuth: float  # radians from the circle's start, 0 up to 2 pi
    at: Points  # (3,)


@dataclass(frozen=True, eq=False)
class Circle:
    """A whole great circle, followed right-handedly about ``normal`` from ``start``."""

    name: str
    normal: Points  # (3,)
    start: Points  # (3,)
    stops: tuple[Stop, ...]  # in order of azimuth


def circles(marking: Marking, where: str | tuple[str, ...], path: str = "where") -> tuple[Circle, ...]:
    """Every circle that ``where`` names; ``DesignError`` at ``path`` for none or an unknown one."""
    texts = (where,) if isinstance(where, str) else where
    found = tuple(circle for text in texts for circle in _named(marking, tidied(text), path))
    if not found:
        raise DesignError(path, f"no circle is named; write {_choices(marking)}")
    return found


def _named(marking: Marking, words: str, path: str) -> tuple[Circle, ...]:
    laid = {line.name.lower(): line for line in marking.guidelines if _whole(line)}
    if words in laid:
        return (_laid(marking, laid[words]),)
    if words in {"obi", "the obi", "equator"}:
        return (_circle(marking, "obi", marking.by_name["N"].at, marking.spokes["N"][0].direction),)
    if _EQUATORS.fullmatch(words):
        return _equators(marking)
    if words in {"all circles", "lines", "all lines"}:
        chosen = [line for line in laid.values() if words == "all circles" or _polar(line)]
        return tuple(_laid(marking, line) for line in chosen) or _none(marking, words, path)
    return (_one(marking, words, laid, path),)


def _one(marking: Marking, words: str, laid: dict[str, Guideline], path: str) -> Circle:
    """The equator of a centre, or the circle a line belongs to."""
    equator, line = _EQUATOR.fullmatch(words), _LINE.fullmatch(words)
    if equator:
        found = next((c for c in _equators(marking) if c.name.lower() == words), None)
        return found or _equator_of(marking, equator[1]) or _none(marking, words, path)[0]
    number = int(line[1]) if line else 0
    if 1 <= number <= len(marking.spokes["N"]):
        ahead = marking.spokes["N"][number - 1].direction
        on = [each for each in laid.values() if _polar(each) and abs(float(each.normal @ ahead)) < NEAR]
        if on:
            return _laid(marking, on[0])
    return _none(marking, words, path)[0]


def _none(marking: Marking, words: str, path: str) -> tuple[Circle, ...]:
    names = [line.name for line in marking.guidelines if _whole(line)]
    close = get_close_matches(words, names, n=3)
    hint = " or ".join(f'"{name}"' for name in close) or _choices(marking)
    raise DesignError(path, f'{marking.division} has no circle "{words[:40]}"; write {hint}')


def _choices(marking: Marking) -> str:
    named = [line.name for line in marking.guidelines if _whole(line)][:1]
    return ", ".join(f'"{name}"' for name in ["obi", "all equators", *(["all circles"] if named else []), *named])


def _whole(line: Guideline) -> bool:
    return line.sweep > math.pi + NEAR and not line.support


def _polar(line: Guideline) -> bool:
    return abs(float(line.normal[2])) < NEAR


def _laid(marking: Marking, line: Guideline) -> Circle:
    return _circle(marking, line.name, line.normal, line.start)


def _equators(marking: Marking) -> tuple[Circle, ...]:
    """One circle half way between each centre of the upper half and the centre opposite."""
    upper = [centre for centre in marking.of_kind("centre") if _leads(centre.at)]
    names = {centre.name: "obi" if centre.name == "N" and len(upper) == 1 else "" for centre in upper}
    return tuple(
        _circle(marking, names[c.name] or f"equator of {c.name}", c.at, marking.spokes[c.name][0].direction)
        for c in upper
    )


def _equator_of(marking: Marking, name: str) -> Circle | None:
    """The circle a quarter of the ball away from any marked point, such as "equator of triangle 1"."""
    known = marking.by_lower.get(name)
    if known is None or not marking.spokes.get(known.name):
        return None
    return _circle(marking, f"equator of {known.name}", known.at, marking.spokes[known.name][0].direction)


def _leads(at: Points) -> bool:
    """Whether a centre, and not the one opposite, gives the pair its name: the upper, or the first from line 1."""
    z, y, x = (0.0 if abs(value) < NEAR else float(value) for value in at[::-1])
    return (z, y, x) > (0.0, 0.0, 0.0)


def _circle(marking: Marking, name: str, normal: Points, start: Points) -> Circle:
    spots = [(known.name, known.at) for known in marking.by_name.values() if abs(float(normal @ known.at)) < NEAR]
    named = [*spots, *_crossings(marking, normal)]
    stops: list[Stop] = []
    azimuths = along(normal, start, np.array([at for _, at in named]))
    for k in sorted(range(len(named)), key=lambda row: (round(float(azimuths[row]), 9), row)):
        if not stops or azimuths[k] - stops[-1].azimuth > NEAR:
            stops.append(Stop(named[k][0], float(azimuths[k]), named[k][1]))
    return Circle(name, normal, start, tuple(stops))


def _crossings(marking: Marking, normal: Points) -> list[tuple[str, Points]]:
    """Where guidelines cross the great circle, half circles only where they are laid; lines by their number."""
    found: list[tuple[str, Points]] = []
    for line in marking.guidelines:
        if line.offset == 0 and abs(float(dot(line.normal, normal))) < 1 - NEAR:
            one = meeting(line.normal, normal)
            laid = [at for at in (one, -one) if float(along(line.normal, line.start, at)) < line.sweep + NEAR]
            found += [(_line_name(marking, line, at), at) for at in laid]
    return found


def _line_name(marking: Marking, line: Guideline, at: Points) -> str:
    """The number of N's line through ``at``, or the guideline's own name."""
    if not _polar(line) or line.support:
        return line.name
    flat = at * [1.0, 1.0, 0.0]
    lines = marking.spokes["N"]
    return max((float(spoke.direction @ flat), f"line {spoke.number}") for spoke in lines)[1]
