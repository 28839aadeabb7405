"""Combination divisions C4, C6, C8, C10: the mirror circles of a triangle group.

In: the number.  Out: a ``Marking``.  A point of the highest order is N and another lies opposite;
every half circle from N to S is then a line.  Line 1 is alike at all points of a kind.
"""

import math
from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from polestitch.marking.marking import Guideline, Marking, Point, Spoke
from polestitch.sphere.arcs import Points, cross
from polestitch.sphere.lines import along, bearings
from polestitch.sphere.symmetry import all_mirrors, mirror_crossings, on_circles, triangle_mirrors, upward

# Order of the triangle's corner at N, of the corner line 1 comes to first, and of the third corner.
# C6 line 1 heads for a neighbouring centre, which carries a pin; C8 and C10 for a diamond and the centre behind it.
CORNERS = {4: (2, 2, 2), 6: (3, 3, 2), 8: (4, 2, 3), 10: (5, 2, 3)}
KINDS = {4: {4: "centre"}, 6: {6: "centre", 4: "diamond"}, 8: {8: "centre", 6: "triangle", 4: "diamond"}}
KINDS[10] = {10: "centre", 6: "triangle", 4: "diamond"}
Rows = NDArray[np.intp]


def combination(number: int) -> Marking:
    """The marking with ``number``-way centres (4, 6, 8 or 10)."""
    mirrors = all_mirrors(triangle_mirrors(*CORNERS[number]))
    at = _in_order(mirror_crossings(mirrors))
    normals = _circles_in_order(mirrors)
    points = _named(number, at, on_circles(normals, at).sum(axis=0) * 2)
    edges = sum(point.ways for point in points) // 2
    return Marking(
        division=f"C{number}",
        points=points,
        places=(),
        guidelines=_guidelines(normals, at),
        triangles=2 - len(points) + edges,  # Euler
        spokes=_spokes(points, normals, at),
    )


def _longitude(points: Points) -> Points:
    """0 up to 2 pi from line 1 to the right, without a 2 pi minus a rounding error."""
    turn = np.mod(np.arctan2(points[:, 1], points[:, 0]), 2 * math.pi)
    return np.where(turn > 2 * math.pi - 1e-9, 0.0, turn)


def _in_order(points: Points) -> Points:
    """From N down, each latitude from line 1 to the right."""
    ordered = points[np.lexsort((_longitude(points).round(9), -points[:, 2].round(9)))]
    ordered.setflags(write=False)
    return ordered


def _circles_in_order(mirrors: Points) -> Points:
    """Normals: circles through N first, by line number, then from the steepest down, by their highest point.

    A circle through N runs off along its lower line number, any other runs to the right.
    """
    mirrors = upward(mirrors)
    polar = np.abs(mirrors[:, 2]) < 1e-9
    top = np.where(polar[:, None], cross(mirrors, np.array([0.0, 0.0, 1.0])), -mirrors * [1.0, 1.0, 0.0])
    turn = _longitude(top).round(9)
    turned = polar & (turn >= round(math.pi, 9))
    turn, normals = np.where(turned, turn - math.pi, turn), np.where(turned[:, None], -mirrors, mirrors) + 0.0
    ordered = normals[np.lexsort((turn, np.where(polar, -1.0, normals[:, 2].round(9))))]
    ordered.setflags(write=False)
    return ordered


def _named(number: int, at: Points, ways: Rows) -> tuple[Point, ...]:
    """Points with names; N and S are counted as centres but keep their own names."""
    counts: dict[str, int] = {}
    points = []
    for row, (spot, way) in enumerate(zip(at, ways.tolist())):
        kind = KINDS[number][way]
        counts[kind] = counts.get(kind, 0) + 1
        name = f"obi {row}" if number == 4 else f"{kind} {counts[kind]}"
        name = {0: "N", len(at) - 1: "S"}.get(row, name)
        points.append(Point(name, kind, way, spot))
    return tuple(points)


def _guidelines(normals: Points, at: Points) -> tuple[Guideline, ...]:
    """Whole circles, each from the first of its points in order."""
    first = on_circles(normals, at).argmax(axis=1)
    rows = enumerate(zip(normals, first))
    return tuple(Guideline(f"circle {k + 1}", normal, at[row], 2 * math.pi) for k, (normal, row) in rows)


def _steps(normals: Points, at: Points) -> tuple[Rows, Rows, Points, Points]:
    """Every step from a point to the next on a circle: from, to (rows of ``at``), tangent and angle."""
    on = on_circles(normals, at)
    circle, point = np.nonzero(on)
    turn = along(normals[circle], at[on.argmax(axis=1)][circle], at[point])
    order = np.lexsort((turn, circle))
    circle, point, turn = circle[order], point[order], turn[order]
    size = np.bincount(circle)
    ahead = np.arange(1, len(circle) + 1)
    ahead[np.cumsum(size) - 1] -= size  # the last of a circle steps to its first
    reach = np.mod(turn[ahead] - turn, 2 * math.pi)
    out, back = cross(normals[circle], at[point]), -cross(normals[circle], at[point[ahead]])
    ends = np.concatenate([point[ahead], point])
    return np.concatenate([point, point[ahead]]), ends, np.concatenate([out, back]), np.concatenate([reach, reach])


def _spokes(points: tuple[Point, ...], normals: Points, at: Points) -> dict[str, tuple[Spoke, ...]]:
    """By point, from the half-line nearest to the way to N (of two equally near: the right one) to the right."""
    origin, ends, tangent, reach = _steps(normals, at)
    tangent.setflags(write=False)
    heading = bearings(at[origin], tangent)
    half = math.pi / np.array([point.ways for point in points])[origin]
    order = np.lexsort((np.mod(heading + half - 1e-9, 2 * math.pi), origin))
    spokes: dict[str, list[Spoke]] = {point.name: [] for point in points}
    for row in order.tolist():
        place = points[origin[row]].name
        number = len(spokes[place]) + 1
        name = f"line {number} of {place}"
        spokes[place].append(Spoke(number, name, tangent[row], float(reach[row]), points[ends[row]].name))
    first = {point.kind: spokes[point.name][0].reach for point in reversed(points)}
    return {point.name: _from_like(spokes[point.name], point.name, first[point.kind]) for point in points}


def _from_like(lines: list[Spoke], place: str, reach: float) -> tuple[Spoke, ...]:
    """A point's lines counted from the first that is as long as line 1 of the first point of its kind.

    Toward N some centres of C10 send a short leg and others a long one; counted from there,
    "line 1 of all centres" would be different legs.
    """
    first = next(k for k, line in enumerate(lines) if abs(line.reach - reach) < 1e-9)
    ahead = lines[first:] + lines[:first]
    return tuple(replace(line, number=k, name=f"line {k} of {place}") for k, line in enumerate(ahead, 1))
