"""Outlines of motifs, and how far one stops short of another.

In: a staged layer's rows.  Out: ``Outline`` records on the ball, and gaps in radians, negative for an overlap.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from polestitch.fit import extent
from polestitch.fitting.stage import Stage
from polestitch.laying.settle import last_settled
from polestitch.sphere.arcs import Points, arc_angle, between
from polestitch.stitching.motifs import Repeat
from polestitch.stitching.seats import Seat
from polestitch.stitching.stitches import Row

# Radians from corner to corner of a drawn-out arc: a chord this long is 4 micrometres off it on a ball of 25 cm.
_FINE = 0.03
# Farther apart than this many times the nearest pair of middles, motifs are no neighbours.
_BESIDE = 1.3
_MOST_BESIDE = 12
_NEAREST = 8  # segments looked at for a point, nearest middles first


@dataclass(frozen=True, eq=False)
class Outline:
    """The outermost thread of one motif: segments from ``begin`` to ``end`` (n, 3), its centre line ``half`` inside.

    A motif along a circle is the belt ``width`` each side of it, and has no segments.
    """

    name: str
    middle: Points  # (3,)
    begin: Points
    end: Points
    half: float
    width: float | None = None


def outlines(stage: Stage) -> tuple[Outline, ...]:
    """One outline for each of the layer's motifs, in their order."""
    shapes = {repeat.seat.likeness: _shape(stage.rows(repeat), repeat) for repeat in stage.repeats}
    return tuple(_placed(shapes[seat.likeness], seat) for seat in stage.places)


def _shape(rows: Sequence[Row], repeat: Repeat) -> Outline:
    """In the motif's own frame."""
    empty = np.zeros((0, 3))
    half = rows[-1].pitch / 2
    if repeat.seat.site.kind == "circle":
        width = max(extent(row, "circle") + (0.0 if row.turn else row.pitch / 2) for row in rows)
        return Outline("", np.array([0.0, 0.0, 1.0]), empty, empty, half, width)
    pairs = [_segments(chain) for upto in _outermost(rows) for chain in last_settled(rows[:upto]).chains]
    begin, end = (np.concatenate([pair[k] for pair in pairs]) for k in (0, 1))
    return Outline("", np.array([0.0, 0.0, 1.0]), begin, end, half)


def _outermost(rows: Sequence[Row]) -> list[int]:
    """Of each strand the row that reaches farthest from the middle, counted from 1."""
    reach = [float(np.arccos(np.clip(row.places[:, 2].min(), -1, 1))) for row in rows]
    strands = {row.strand: [k for k, one in enumerate(rows) if one.strand == row.strand] for row in rows}
    return [max(members, key=lambda k: (reach[k], k)) + 1 for members in strands.values()]


def _segments(chain: Points) -> tuple[Points, Points]:
    pieces = max(1, int(np.ceil(arc_angle(chain[:-1], chain[1:]).max() / _FINE)))
    points = np.stack([between(chain[:-1], chain[1:], share) for share in np.arange(pieces) / pieces], axis=1)
    drawn = np.concatenate([points.reshape(-1, 3), chain[-1:]])
    return drawn[:-1], drawn[1:]


def _placed(shape: Outline, seat: Seat) -> Outline:
    turned = (shape.middle @ seat.frame.T, shape.begin @ seat.frame.T, shape.end @ seat.frame.T)
    return Outline(seat.name, *turned, shape.half, shape.width)


def beside(one: Outline, others: Sequence[Outline]) -> list[Outline]:
    """Those of ``others`` that lie next to ``one``."""
    away = np.array([float(arc_angle(one.middle, other.middle)) for other in others])
    near = [k for k in np.argsort(away, kind="stable") if away[k] <= _BESIDE * away.min() + 1e-9]
    belts = [k for k, other in enumerate(others) if other.width is not None]
    return [others[k] for k in dict.fromkeys([*near[:_MOST_BESIDE], *belts])]


def gap(one: Outline, other: Outline) -> float:
    """Radians between the two threads' edges; less than 0: how deep one lies in the other.

    Where they overlap it is the farthest that any of the one's thread lies inside the other's outline.
    """
    if other.width is not None:
        return _above_belt(one, other)
    if one.width is not None:
        return _above_belt(other, one)
    return min(_short_of(one, other), _short_of(other, one)) - one.half - other.half


def _above_belt(one: Outline, belt: Outline) -> float:
    assert belt.width is not None
    side = -1 if one.middle @ belt.middle < 0 else 1  # a motif that crosses the line reaches below 0
    return float(np.arcsin(np.clip(side * one.begin @ belt.middle, -1, 1)).min()) - belt.width - one.half


def _short_of(one: Outline, other: Outline) -> float:
    """Least signed distance of the one's corners from the other's outline, positive outside."""
    points = one.begin
    distance = _from_segments(points, other)
    reach = (other.begin @ other.middle).min()
    within = np.flatnonzero(points @ other.middle > reach)  # no other can lie inside
    signed = distance.copy()
    signed[within] *= np.where(_inside(points[within], other), -1, 1)
    return float(signed.min())


def _from_segments(points: Points, other: Outline) -> NDArray[np.float64]:
    """(p,) distance of each point from the nearest segment; segments are short, so straight lines will do."""
    from scipy.spatial import cKDTree

    tree = cKDTree((other.begin + other.end) / 2)
    near = np.asarray(tree.query(points, k=min(_NEAREST, len(other.begin)))[1]).reshape(len(points), -1)
    begin, end = other.begin[near], other.end[near]
    along, ahead = end - begin, points[:, None] - begin
    length = np.maximum((along**2).sum(axis=2), 1e-18)
    share = np.clip((ahead * along).sum(axis=2) / length, 0, 1)
    away = ahead - share[..., None] * along
    return np.asarray(np.sqrt((away**2).sum(axis=2).min(axis=1)))


def _inside(points: Points, other: Outline) -> NDArray[np.bool_]:
    """(p,) whether the outline passes outside the point as seen from its middle."""
    flat, begin, end = (_flat(part, other.middle) for part in (points, other.begin, other.end))
    ahead = flat / np.maximum(np.hypot(flat[:, 0], flat[:, 1]), 1e-12)[:, None]
    side = [np.outer(ahead[:, 0], part[:, 1]) - np.outer(ahead[:, 1], part[:, 0]) for part in (begin, end)]
    share = side[0] / np.where(side[0] == side[1], 1.0, side[0] - side[1])
    far = (1 - share) * (ahead @ begin.T) + share * (ahead @ end.T)
    crosses = (side[0] > 0) != (side[1] > 0)
    return np.asarray((crosses & (far > np.hypot(flat[:, 0], flat[:, 1])[:, None])).any(axis=1))


def _flat(points: Points, middle: Points) -> Points:
    """(n, 2) azimuthal equidistant about ``middle``: directions and distances from it are true."""
    x = np.cross(middle, np.eye(3)[int(np.argmin(np.abs(middle)))])
    x /= np.linalg.norm(x)
    away = np.arccos(np.clip(points @ middle, -1, 1))
    level = np.stack([points @ x, points @ np.cross(middle, x)], axis=1)
    return np.asarray(level * (away / np.maximum(np.sin(away), 1e-12))[:, None])
