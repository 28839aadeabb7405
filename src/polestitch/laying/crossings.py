"""Where two spans cross.

In: ``Laid``.  Out: ``Crossings``, each proper crossing exactly once, and the touches apart from them.

Circles ``n1 . x = c1`` and ``n2 . x = c2`` meet at ``(p +- sqrt(q) w) / s`` with w = n1 x n2, s = w . w,
d = n1 . n2, p = (c1 - c2 d) n1 + (c2 - c1 d) n2 and q = s - c1^2 - c2^2 + 2 c1 c2 d; they miss where
q < 0.  Written with v = n1 - n2 and e = 1 - d = v . v / 2, these are w = v x n1,
p = (c1 - c2) v + e (c2 n1 + c1 n2) and q = s - (c1 - c2)^2 - 2 c1 c2 e, which lose nothing where the
circles nearly agree; where their normals nearly oppose, the second is told from its other side.

A point of its circle is on an arc where its part along the arc's middle is long enough, which needs no
angle.  What is too close to an arc's end, or to grazing, for that to be sure is classified with care
in ``touches``.
"""

from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from polestitch.laying.bundles import candidates
from polestitch.laying.laid import Ints, Laid
from polestitch.laying.touches import touched
from polestitch.sphere.arcs import Angles, Points

Vectors = NDArray[np.float64]
Indices = NDArray[np.intp]

CLOSE = 2e-6  # how far along an arc its end is too near to trust the quick test
GRAZING = 1e-6  # square of the sine of an angle too flat for it


@dataclass(frozen=True, eq=False)
class Crossings:
    """Proper crossings of arcs of different spans, by first arc, then second, in laying order."""

    laid: Laid
    first: Ints  # (k,) the arc laid first
    second: Ints  # (k,) the arc laid later
    point: Points  # (k, 3)
    touches: Ints  # (m, 2) arcs that only touch: an end lies on the other, or their circles graze

    def __post_init__(self) -> None:
        """Freeze the arrays."""
        for array in (self.first, self.second, self.point, self.touches):
            array.setflags(write=False)

    def __len__(self) -> int:
        return len(self.first)

    @cached_property
    def t_first(self) -> Angles:
        """(k,) where along the first arc, as ``Laid.at`` counts."""
        return self.laid.t_of(self.first, self.point)

    @cached_property
    def t_second(self) -> Angles:
        """(k,) where along the second arc."""
        return self.laid.t_of(self.second, self.point)


@dataclass(frozen=True, eq=False)
class Meetings:
    """Both points where the circles of ``k`` pairs of arcs meet, not yet asked whether the arcs reach them."""

    one: Indices
    two: Indices
    base: Vectors  # (3, k) p
    cross: Vectors  # (3, k) w
    size: Vectors  # (k,) s
    root: Vectors  # (k,) q

    def points(self, pair: Indices, sign: Vectors) -> Points:
        """(m, 3) the meeting points of these pairs on the side of ``sign`` (m,)."""
        spread = sign * np.sqrt(self.root[pair])
        point = self.base.take(pair, axis=1) + spread * self.cross.take(pair, axis=1)
        return np.ascontiguousarray((point / np.sqrt(_dot(point, point))).T)


def crossings(laid: Laid) -> Crossings:
    """Every proper crossing between arcs of different spans."""
    if not len(laid.offset):
        none = np.zeros(0, np.int32)
        return Crossings(laid, none, none.copy(), np.zeros((0, 3)), np.zeros((0, 2), np.int32))
    return crossings_among(laid, *candidates(laid))


def crossings_among(laid: Laid, one: Indices, two: Indices) -> Crossings:
    """The proper crossings among pairs of arcs (k,), ``one`` < ``two``; pairs may repeat.

    A crossing at the joint of a chain counts once, for the arc that ends there.
    """
    one, two = one.astype(np.intp, copy=False), two.astype(np.intp, copy=False)  # keys outgrow 32 bits
    met = _meetings(laid, one, two)
    sure, sign, unsure = _on_both(laid, met)
    close = touched(laid, *_distinct(laid, one[unsure], two[unsure]))
    first = np.concatenate([one[sure], close.one])
    second = np.concatenate([two[sure], close.two])
    side = np.concatenate([sign, close.side]).astype(np.intp)
    order = _once_in_order((first * len(laid.offset) + second) * 4 + side + 1)
    point = np.concatenate([met.points(sure, sign), close.point]).take(order, axis=0)
    return Crossings(laid, first[order].astype(np.int32), second[order].astype(np.int32), point, close.touches)


def _once_in_order(key: Indices) -> Indices:
    """Where in ``key`` (k,) its values stand, rising, each value once.

    Value and place packed in one whole number: sorting numbers is several times faster than argsort.
    """
    bits = len(key).bit_length()
    packed = np.sort((key << bits) | np.arange(len(key)))
    return np.asarray(packed[np.diff(packed >> bits, prepend=-1) != 0] & ((1 << bits) - 1))


def _dot(a: Vectors, b: Vectors) -> Vectors:
    """(k,) scalar products of vectors (3, k): written out, several times faster than a sum over the axis."""
    return np.asarray(a[0] * b[0] + a[1] * b[1] + a[2] * b[2])


def _distinct(laid: Laid, one: Indices, two: Indices) -> tuple[Indices, Indices]:
    keys = np.unique(one * len(laid.offset) + two)
    return keys // len(laid.offset), keys % len(laid.offset)


def _meetings(laid: Laid, one: Indices, two: Indices) -> Meetings:
    normals = np.ascontiguousarray(laid.normal.T)
    n1, n2 = normals.take(one, axis=1), normals.take(two, axis=1)
    c1, c2 = laid.offset[one], laid.offset[two]
    side = np.where(_dot(n1, n2) < 0, -1.0, 1.0)
    n2, c2 = side * n2, side * c2
    diff, apart = n1 - n2, c1 - c2
    e = _dot(diff, diff) / 2
    cross = np.stack([side * (diff[i - 2] * n1[i - 1] - diff[i - 1] * n1[i - 2]) for i in range(3)])
    size = _dot(cross, cross)
    base = apart * diff + (e * c2) * n1 + (e * c1) * n2
    return Meetings(one, two, base, cross, size, size - apart * apart - 2 * c1 * c2 * e)


def _on_both(laid: Laid, met: Meetings) -> tuple[Indices, Vectors, Indices]:
    """Pairs that surely cross with the sign of the point, and pairs to look at more closely."""
    flat = GRAZING * (laid.radius[met.one] * laid.radius[met.two]) ** 2
    grazing = np.abs(met.root) < flat
    spread = np.sqrt(np.maximum(met.root, 0))
    middle, reach = _middles(laid)
    sides = []
    for arc in (met.one, met.two):
        m = middle.take(arc, axis=1)
        sides.append((_dot(met.base, m), spread * _dot(met.cross, m), reach[arc] * met.size))
    sure, signs, unsure = [], [], grazing
    for sign in (1.0, -1.0):
        beyond = np.minimum(*(base + sign * cross - least for base, cross, least in sides))
        on = beyond > CLOSE * met.size
        near = np.abs(beyond) <= CLOSE * met.size
        hit = np.flatnonzero(on & ~grazing & (met.root > 0))
        sure.append(hit)
        signs.append(np.full(len(hit), sign))
        unsure = unsure | (near & (met.root > 0))
    return np.concatenate(sure), np.concatenate(signs), np.flatnonzero(unsure)


def _middles(laid: Laid) -> tuple[Vectors, Vectors]:
    """(3, a) direction of each arc's middle from its axis, and (a,) how far along it the arc's points lie.

    A closed turn has no ends: every point of it lies far enough.
    """
    half = laid.sweep / 2
    middle = np.cos(half)[:, None] * laid.e1 + np.sin(half)[:, None] * laid.e2
    reach = np.where(half < np.pi, laid.radius * np.cos(half), -9.0)
    return np.ascontiguousarray(middle.T), reach
