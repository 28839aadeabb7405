"""Pairs of arcs that meet at an end or graze: which of them touch, and which cross after all.

In: ``Laid`` and pairs of arcs.  Out: ``Close``.

A touch is its own class, with one tolerance: an end that lies on the other arc, the sine of its angle
off the other's circle at most ``TOUCH``.  Nothing real lies between rounding (1e-15) and that.  Where a
chain's joint lies on another thread the chain crosses it if its two sides leave to different sides.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from polestitch.laying.laid import Ints, Laid
from polestitch.sphere.arcs import Points, dot, unit

Vectors = NDArray[np.float64]
Indices = NDArray[np.intp]
Flags = NDArray[np.bool_]

TOUCH = 1e-9


@dataclass(frozen=True, eq=False)
class Close:
    """The ``k`` proper crossings among close pairs, and the ``m`` pairs that touch."""

    one: Indices  # (k,) lower arc
    two: Indices  # (k,) higher arc
    side: Vectors  # (k,) +1 or -1: which of the circles' two points; 0 or 2 at a joint of the lower, higher arc
    point: Points  # (k, 3)
    touches: Ints  # (m, 2)


@dataclass(frozen=True, eq=False)
class Ends:
    """Ends of arcs within ``TOUCH`` of the circle of the arc they are paired with."""

    pair: Indices  # (k,) which of the given pairs
    arc: Indices  # (k,) whose end
    last: Flags  # (k,) its last end rather than its first
    other: Indices  # (k,)
    point: Points  # (k, 3)
    on: Flags  # (k,) whether the end lies on the other arc too, not only on its circle

    def those(self, kept: Flags) -> "Ends":
        """The ends that are ``kept`` (k,)."""
        return Ends(*(array[kept] for array in vars(self).values()))


@dataclass(frozen=True, eq=False)
class Shapes:
    """What deciding on touches asks of each of ``a`` arcs again and again."""

    ends: Points  # (2, a, 3)
    middle: Points  # (a, 3) from the axis to the arc's middle
    half: Vectors  # (a,) of its sweep
    radius: Vectors  # (a,)

    def on(self, arc: Indices, point: Points, slack: float = TOUCH) -> Flags:
        """(k,) whether points (k, 3) of the arcs' circles lie on the arcs, or ``slack`` radians beyond an end."""
        half = self.half[arc]
        least = self.radius[arc] * np.cos(np.minimum(half + slack, np.pi))
        return np.asarray((half >= np.pi) | (dot(self.middle.take(arc, axis=0), point) > least))


def _shapes(laid: Laid) -> Shapes:
    half = laid.sweep / 2
    middle = np.cos(half)[:, None] * laid.e1 + np.sin(half)[:, None] * laid.e2
    last = laid.at(np.arange(len(half), dtype=np.int32), laid.sweep)
    return Shapes(np.stack([laid.start, last]), middle, half, laid.radius)


def touched(laid: Laid, one: Indices, two: Indices) -> Close:
    """Classifies pairs of arcs (k,), ``one`` < ``two``, each pair given once."""
    shapes = _shapes(laid)
    ends = _ends_near(laid, shapes, one, two)
    cross = np.cross(laid.normal[one], laid.normal[two])
    apart = dot(cross, cross) > TOUCH**2
    tangent, at = _tangent(laid, one, two)
    tangent &= apart & shapes.on(one, at) & shapes.on(two, at)
    on = ends.those(ends.on)
    through, joints = _joint_crossings(laid, shapes, on)
    crossed = [joints]
    for sign in (1.0, -1.0):
        taken = np.zeros(len(one), dtype=bool)
        taken[ends.pair[sign * dot(cross[ends.pair], ends.point) > 0]] = True
        at, real = _meeting(laid, one, two, sign)
        hit = real & apart & ~tangent & ~taken & shapes.on(one, at, 0.0) & shapes.on(two, at, 0.0)
        crossed.append((one[hit], two[hit], np.full(hit.sum(), sign), at[hit]))
    touching = tangent
    touching[on.pair[~through]] = True
    lower, higher, side, point = (np.concatenate(part) for part in zip(*crossed))
    return Close(lower, higher, side, point, np.stack([one, two], axis=1)[touching].astype(np.int32))


def _ends_near(laid: Laid, shapes: Shapes, one: Indices, two: Indices) -> Ends:
    found = []
    for arc, other in ((one, two), (two, one)):
        normal, offset = laid.normal.take(other, axis=0), laid.offset[other]
        for last in (False, True):
            point = shapes.ends[int(last)].take(arc, axis=0)
            off = np.abs(dot(normal, point) - offset) / laid.radius[other]
            near = np.flatnonzero((off <= TOUCH) & (shapes.half[arc] < np.pi))
            arc_, other_, point = arc[near], other[near], point[near]
            found.append((near, arc_, np.full(len(near), last), other_, point, shapes.on(other_, point)))
    return Ends(*(np.concatenate(part) for part in zip(*found)))


def _meeting(laid: Laid, one: Indices, two: Indices, sign: float) -> tuple[Points, Flags]:
    """(k, 3) where the arcs' circles meet on one side, and (k,) whether they do; formula in ``crossings``."""
    n1, n2, c1, c2 = laid.normal[one], laid.normal[two], laid.offset[one], laid.offset[two]
    side = np.where(dot(n1, n2) < 0, -1.0, 1.0)
    n2, c2 = side[:, None] * n2, side * c2
    diff, apart = n1 - n2, c1 - c2
    e, cross = dot(diff, diff) / 2, side[:, None] * np.cross(diff, n1)
    root = dot(cross, cross) - apart**2 - 2 * c1 * c2 * e
    base = apart[:, None] * diff + (e * c2)[:, None] * n1 + (e * c1)[:, None] * n2
    point = base + sign * np.sqrt(np.maximum(root, 0))[:, None] * cross
    real = (root > 0) & (dot(point, point) > 0)
    return unit(np.where(real[:, None], point, n1)), real


def _tangent(laid: Laid, one: Indices, two: Indices) -> tuple[Flags, Points]:
    """(k,) whether one circle reaches across the other by less than ``TOUCH``, and (k, 3) where."""
    n1, n2, c1, c2 = laid.normal[one], laid.normal[two], laid.offset[one], laid.offset[two]
    cross, d = np.cross(n1, n2), dot(n1, n2)
    across = laid.radius[one] * np.sqrt(dot(cross, cross)) - np.abs(c1 * d - c2)
    base = (c1 - c2 * d)[:, None] * n1 + (c2 - c1 * d)[:, None] * n2
    tangent = (np.abs(across) <= TOUCH * laid.radius[two]) & (dot(base, base) > 0)
    return tangent, unit(np.where(tangent[:, None], base, n1))


def _joint_crossings(laid: Laid, shapes: Shapes, ends: Ends) -> tuple[Flags, tuple[Indices, Indices, Vectors, Points]]:
    """Which ends are joints that cross; and lower arc, higher arc, side and point of each such crossing, once."""
    here = _joint(laid, ends.arc, ends.last)
    there = _joint_at(laid, shapes, ends.other, ends.point)
    kept = (here >= 0) & (there != FREE)
    here, there, point = here[kept], there[kept], ends.point[kept]
    other = np.where(there >= 0, there, ends.other[kept])
    swap = (there >= 0) & (there < here)
    here, other = np.where(swap, other, here), np.where(swap, here, other)
    crosses = _interleaved(
        point,
        -np.cross(laid.normal[here], point),
        np.cross(laid.normal[here + 1], point),
        -np.cross(laid.normal[other], point),
        np.cross(laid.normal[other + (there >= 0)], point),
    )
    through = np.zeros(len(kept), dtype=bool)
    through[np.flatnonzero(kept)[crosses]] = True
    met = np.stack([here, other, there >= 0], axis=1)[crosses]
    _, once = np.unique(met, axis=0, return_index=True)
    here, other, point = here[crosses][once], other[crosses][once], point[crosses][once]
    return through, (np.minimum(here, other), np.maximum(here, other), np.where(here < other, 0.0, 2.0), point)


FREE, INSIDE = -2, -1


def _joint(laid: Laid, arc: Indices, last: Flags) -> Indices:
    """(k,) the arc that ends at the joint an arc's end is, or ``FREE`` where its span ends there."""
    before = np.where(last, arc, arc - 1)
    after = np.minimum(before + 1, len(laid.offset) - 1)
    chained = (before >= 0) & (after > before) & (laid.arc_span[before] == laid.arc_span[after])
    return np.where(chained, before, FREE)


def _joint_at(laid: Laid, shapes: Shapes, arc: Indices, point: Points) -> Indices:
    """(k,) the joint of ``arc`` that ``point`` is, ``FREE`` at the end of its span, or ``INSIDE`` it."""
    found = np.full(len(arc), INSIDE)
    for last in (False, True):
        gap = shapes.ends[int(last)].take(arc, axis=0) - point
        there = (dot(gap, gap) <= (4 * TOUCH) ** 2) & (laid.sweep[arc] < 2 * np.pi)
        found = np.where(there, _joint(laid, arc, np.full(len(arc), last)), found)
    return found


def _interleaved(point: Points, *ways: Points) -> Flags:
    """(k,) whether the first two of four ways (k, 3) out of a point part the other two; a shared way does not."""
    u = ways[0]
    v = np.cross(point, u)
    leaving, one, two = (np.arctan2(dot(v, way), dot(u, way)) % (2 * np.pi) for way in ways[1:])
    shared = np.zeros(len(u), dtype=bool)
    for way in (one, two):
        shared |= (np.minimum(way, 2 * np.pi - way) <= TOUCH) | (np.abs(way - leaving) <= TOUCH)
    return np.asarray(~shared & ((one < leaving) != (two < leaving)))
