"""Multi-face divisions: pentagons (or squares, triangles) round the centres of a combination, hexagons between.

In: a family.  Out: a ``Marking`` whose points are face centres ("N", "centre 4", "face 17") and corners
("corner 30"), and when it is perfect the middles of the sides ("middle 8").
Lines are the sides of the faces and the long legs from each centre to its corners; a perfect marking
has the short legs too, from each centre to the middles of its sides.  Base lines that are neither
are temporary and not part of the marking.
"""

import math
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from polestitch.marking.equalised import equalised
from polestitch.marking.families import SIDES, Family
from polestitch.marking.lattice import Rows, base_centres, middles
from polestitch.marking.marking import Guideline, Marking, Net, Point, Spoke
from polestitch.marking.parts import equal_parts
from polestitch.marking.rings import face_sides
from polestitch.sphere.arcs import Points, arc_angle, cross, toward, unit
from polestitch.sphere.lines import bearings

Flags = NDArray[np.bool_]
KINDS = ("centre", "face", "corner", "middle")


class _Spots(NamedTuple):
    """All points in order: N first, then by latitude and to the right."""

    at: Points  # (p, 3)
    kind: Rows  # (p,) index in KINDS
    names: list[str]


class _Lines(NamedTuple):
    """Lines by the rows of their ends; ``through`` is the middle of a side that has one, else -1."""

    start: Rows
    end: Rows
    through: Rows
    leg: Rows  # 0 a side, 1 a long leg, 2 a short leg


def faces(family: Family) -> Marking:
    """The marking of ``family``."""
    centres, corners, meeting = (equalised if family.equalised else equal_parts)(family)
    sides, parts = face_sides(meeting)
    halves = middles(corners, sides) if family.perfect else np.empty((0, 3))
    kind = np.repeat([1, 2, 3], [len(centres), len(corners), len(halves)])
    ways = np.bincount(meeting.ravel())
    kind[: len(centres)] = np.where((ways == SIDES[family.base]) & _on_centres(family, centres), 0, 1)
    spots, row = _in_order(np.concatenate([centres, corners, halves]), kind)
    face, corner, middle = np.split(row, np.cumsum([len(centres), len(corners)]))
    lines = _lines((face, corner, middle), (meeting, sides, parts))
    spokes = _spokes(spots, lines)
    points = tuple(
        Point(name, KINDS[k], len(spokes[name]), at) for name, k, at in zip(spots.names, spots.kind.tolist(), spots.at)
    )
    return Marking(
        division=family.name,
        points=points,
        places=(),
        guidelines=_guidelines(spots, lines),
        triangles=int(ways.sum()) * (2 if family.perfect else 1),
        spokes=spokes,
        net=_net(family, points, face, corner, (meeting, sides, parts)),
    )


def _on_centres(family: Family, centres: Points) -> Flags:
    """Whether a face lies round one of the base's centres: on C6 with T = 1 all do."""
    return np.asarray((arc_angle(centres[:, None], base_centres(family.base)[None]) < 1e-6).any(axis=1))


def _in_order(at: Points, kind: Rows) -> tuple[_Spots, Rows]:
    """The spots with their names, and where each row went."""
    at = np.where(np.abs(at) < 1e-12, 0.0, at)
    turn = np.mod(np.arctan2(at[:, 1], at[:, 0]), 2 * math.pi)
    turn = np.where(turn > 2 * math.pi - 1e-9, 0.0, turn)
    order = np.lexsort((turn.round(9), -at[:, 2].round(9)))
    at, kind = at[order], kind[order]
    at.setflags(write=False)
    number = np.zeros(len(at), dtype=int)
    for k in range(len(KINDS)):
        number[kind == k] = np.arange(1, int((kind == k).sum()) + 1)
    names = [f"{KINDS[k]} {n}" for k, n in zip(kind.tolist(), number.tolist())]
    names[0] = "N"
    if at[-1, 2] < -1 + 1e-9:
        names[-1] = "S"
    row = np.empty(len(order), dtype=np.intp)
    row[order] = np.arange(len(order))
    return _Spots(at, kind, names), row


def _lines(spots: tuple[Rows, Rows, Rows], rings: tuple[Rows, Rows, Rows]) -> _Lines:
    """Sides, long legs and, where there are middles, short legs; each kind in order of its ends."""
    (face, corner, middle), (meeting, sides, parts) = spots, rings
    side = np.sort(corner[sides], axis=1)
    through = middle if len(middle) else np.full(len(sides), -1)
    order = np.lexsort((side[:, 1], side[:, 0]))
    long = np.stack([face[meeting.ravel()], np.repeat(corner, 3)], axis=1)
    short = np.stack([face[parts.ravel()], np.repeat(middle, 2)], axis=1) if len(middle) else long[:0]
    long, short = (each[np.lexsort((each[:, 1], each[:, 0]))] for each in (long, short))
    ends = np.concatenate([side[order], long, short])
    none = np.full(len(long) + len(short), -1)
    leg = np.repeat([0, 1, 2], [len(side), len(long), len(short)])
    return _Lines(ends[:, 0], ends[:, 1], np.concatenate([through[order], none]), leg)


def _guidelines(spots: _Spots, lines: _Lines) -> tuple[Guideline, ...]:
    start, end = spots.at[lines.start], spots.at[lines.end]
    normal = unit(cross(start, end))
    normal.setflags(write=False)
    word, first = ("side", "long leg", "short leg"), np.searchsorted(lines.leg, [0, 1, 2])
    number = np.arange(len(start)) - first[lines.leg] + 1
    names = [f"{word[leg]} {n}" for leg, n in zip(lines.leg.tolist(), number.tolist())]
    sweep = arc_angle(start, end).tolist()
    return tuple(map(Guideline, names, normal, start, sweep))


def _steps(lines: _Lines) -> tuple[Rows, Rows, Rows]:
    """From, to and kind of every half-line that leaves a point."""
    plain, cut = lines.through < 0, lines.through >= 0
    one = np.concatenate([lines.start[plain], lines.start[cut], lines.end[cut]])
    other = np.concatenate([lines.end[plain], lines.through[cut], lines.through[cut]])
    leg = np.concatenate([lines.leg[plain], lines.leg[cut], lines.leg[cut]])
    return np.concatenate([one, other]), np.concatenate([other, one]), np.concatenate([leg, leg])


def _spokes(spots: _Spots, lines: _Lines) -> dict[str, tuple[Spoke, ...]]:
    """By point, to the right; line 1 is of the same sort at all points of a kind, else the nearest to the way to N."""
    origin, end, leg = _steps(lines)
    tangent = toward(spots.at[origin], spots.at[end])
    ways = np.bincount(origin)
    heading = np.mod(bearings(spots.at[origin], tangent) + math.pi / ways[origin] - 1e-9, 2 * math.pi)
    order = np.lexsort((heading, origin))
    origin, end, leg, tangent = origin[order], end[order], leg[order], tangent[order]
    first = np.cumsum(ways) - ways
    place = np.arange(len(origin)) - first[origin]
    like = leg == _first_leg(spots, leg[first])[origin]
    begin = np.full(len(ways), 99)
    np.minimum.at(begin, origin[like], place[like])
    number = np.mod(place - begin[origin], ways[origin])
    order = np.lexsort((number, origin))
    origin, end, tangent, number = origin[order], end[order], tangent[order], number[order] + 1
    tangent.setflags(write=False)
    reach = arc_angle(spots.at[origin], spots.at[end]).tolist()
    numbers, name = number.tolist(), spots.names
    words = [f"line {n} of {name[o]}" for n, o in zip(numbers, origin.tolist())]
    every = list(map(Spoke, numbers, words, tangent, reach, [name[e] for e in end.tolist()]))
    return {name[k]: tuple(every[a : a + w]) for k, (a, w) in enumerate(zip(first.tolist(), ways.tolist()))}


def _first_leg(spots: _Spots, leg: Rows) -> Rows:
    """(p,) the sort of line 1: that of the first point of the kind."""
    found = np.zeros(len(spots.kind), dtype=int)
    for k in range(len(KINDS)):
        of_kind = spots.kind == k
        if of_kind.any():
            found[of_kind] = leg[of_kind.argmax()]
    return found


def _net(family: Family, points: tuple[Point, ...], face: Rows, corner: Rows, rows: tuple[Rows, Rows, Rows]) -> Net:
    """The net with faces and corners in the order of the points."""
    meeting, sides, parts = rows
    faces_, corners_ = np.argsort(np.argsort(face)), np.argsort(np.argsort(corner))
    told = (corners_[sides], faces_[parts], faces_[meeting][np.argsort(corner)])
    for each in told:
        each.setflags(write=False)
    ordered = [tuple(points[k] for k in sorted(rows_.tolist())) for rows_ in (face, corner)]
    return Net(f"C{family.base}", ordered[0], ordered[1], *told)
