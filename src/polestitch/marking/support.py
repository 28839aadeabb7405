"""Support lines: marked only to help place stitches, between addressed spots or round one.

In: the document's support entries.  Out: the marking with their lines and their named corners added.
The corners of "ring" are called "ring 1", "ring 2" … and lie on the guidelines of the spot it goes round.
Points and line numbers of the division itself never change.
"""

import math
from dataclasses import replace

from polestitch.ball.ball import Ball
from polestitch.document.design import Support
from polestitch.document.lengths import Length
from polestitch.errors import DesignError
from polestitch.marking.address import Place, address, spokes_at
from polestitch.marking.marking import Guideline, Marking, Point, Spoke
from polestitch.sphere.arcs import Points, arc_angle, cross, move, unit
from polestitch.sphere.lines import NEAR

TOO_FAR = math.pi / 2  # a ring wider than this is one round the opposite spot


def supported(marking: Marking, supports: tuple[Support, ...], ball: Ball, path: str = "marking.support") -> Marking:
    """``marking`` with ``supports`` added in order, so a later one may start from an earlier one's corners."""
    for number, support in enumerate(supports):
        marking = _with(marking, support, ball, f"{path}[{number}]")
    return marking


def _with(marking: Marking, support: Support, ball: Ball, path: str) -> Marking:
    _check_name(marking, support.name, path)
    if support.between is not None and support.around is None:
        return replace(marking, guidelines=(*marking.guidelines, _line(marking, support, support.between, ball, path)))
    if support.around is None or support.at is None or support.between is not None:
        raise DesignError(path, 'a support line needs either "between", two spots, or "around", a spot, with "at"')
    middle = address(marking, support.around, ball, f"{path}.around")
    if support.corners is None:
        if not middle.spokes:
            raise DesignError(f"{path}.around", f"no guideline passes {middle.name}; choose a spot on one")
        return _with_ring(marking, support.name, middle, _radius(middle.spokes[0], support.at, ball, path))
    return _with_polygon(marking, support.name, _corners(middle, support.at, support.corners, ball, path))


def _check_name(marking: Marking, name: str, path: str) -> None:
    """A support line's name must not be one that already means something."""
    taken = {known.kind.lower() for known in marking.by_name.values()} | {known.lower() for known in marking.by_name}
    taken |= {line.name.lower() for line in marking.guidelines} | {"line", "circle", "obi", "centre", "point", "pole"}
    if name.strip().lower() in taken:
        raise DesignError(f"{path}.name", f'"{name}" already names something on this ball; choose another word')


def _line(marking: Marking, support: Support, ends: tuple[str, str], ball: Ball, path: str) -> Guideline:
    first, last = (address(marking, end, ball, f"{path}.between") for end in ends)
    gap = float(arc_angle(first.at, last.at))
    if not NEAR < gap < math.pi - NEAR:
        fault = "are the same spot" if gap < 1 else "lie opposite each other, so no one line joins them"
        raise DesignError(f"{path}.between", f"{first.name} and {last.name} {fault}; name two other spots")
    return Guideline(support.name, unit(cross(first.at, last.at)), first.at, gap, support=True)


def _radius(spoke: Spoke, length: Length, ball: Ball, path: str) -> float:
    """Radians from the middle out to ``length`` along ``spoke``; "from edge" and "from obi" count from its far end."""
    angle = length.value * spoke.reach if length.mm is None else ball.angle(length.mm)
    angle = spoke.reach - angle if length.origin in {"edge", "obi"} else angle
    if not NEAR < angle < TOO_FAR - NEAR:
        raise DesignError(
            f"{path}.at", f'"{length}" is no distance for a ring; it lies 0 to {ball.quarter_mm:.0f} mm out'
        )
    return angle


def _with_ring(marking: Marking, name: str, middle: Place, radius: float) -> Marking:
    """A circle; a fraction was taken of line 1 of the middle, and the circle is as far out everywhere."""
    spots = [move(middle.at, spoke.direction, radius) for spoke in middle.spokes]
    ring = Guideline(name, middle.at, spots[0], 2 * math.pi, support=True, offset=math.cos(radius))
    return _with_corners(replace(marking, guidelines=(*marking.guidelines, ring)), name, spots)


def _corners(middle: Place, length: Length, count: int, ball: Ball, path: str) -> list[Points]:
    """``count`` spots on guidelines evenly chosen from line 1 on, each at ``length`` along its own."""
    ways = len(middle.spokes)
    if ways == 0 or ways % count:
        fits = " or ".join(str(n) for n in range(3, ways + 1) if ways % n == 0)
        remedy = f"choose {fits} corners" if fits else "choose another spot"
        raise DesignError(f"{path}.corners", f"{count} corners do not fit {ways} lines round {middle.name}; {remedy}")
    spokes = sorted(middle.spokes, key=lambda spoke: spoke.number)[:: ways // count]
    return [move(middle.at, spoke.direction, _radius(spoke, length, ball, path)) for spoke in spokes]


def _with_polygon(marking: Marking, name: str, spots: list[Points]) -> Marking:
    sides = []
    for n, (start, end) in enumerate(zip(spots, spots[1:] + spots[:1]), 1):
        side = f"{name} {n}-{n % len(spots) + 1}"
        sides.append(Guideline(side, unit(cross(start, end)), start, float(arc_angle(start, end)), support=True))
    return _with_corners(replace(marking, guidelines=(*marking.guidelines, *sides)), name, spots)


def _with_corners(marking: Marking, name: str, spots: list[Points]) -> Marking:
    corners = []
    for n, at in enumerate(spots, 1):
        at.setflags(write=False)
        corner = f"{name} {n}"
        corners.append(Point(corner, name, len(spokes_at(marking, corner, at)), at))
    return replace(marking, places=(*marking.places, *corners))
