"""Which arcs may meet: a tree of bundles, each a box round arcs that run alike.

In: ``Laid``.  Out: pairs of arcs, every pair that meets among them and few others.

Thread on a ball lies in bundles: legs of neighbouring rows, turns of one band.  Halving the arcs again
and again along the widest of the six coordinates of their two ends finds those bundles without knowing
the design.  Two bundles can only meet if each reaches to both sides of the other's circles; where they
do, their arcs are tried all against all by one small matrix product.
(experiments/bundle_sizes.py has the timings behind the constants.)
"""

from collections.abc import Iterator
from dataclasses import dataclass
from functools import reduce

import numpy as np
from numpy.typing import NDArray

from polestitch.laying.laid import Laid

Vectors = NDArray[np.float64]
Indices = NDArray[np.intp]

LONGEST = np.pi / 3  # a longer arc is cut for the search: bundles are thin only while arcs bend little
BUNDLE = 12  # most pieces in the smallest bundle
SLACK = 4e-6  # single precision loses 4e-7; a pair too many does no harm
ALL_PAIRS_LEVEL = 8  # up to 256 bundles, a table of all pairs is quicker than a list of some
NOWHERE = (0.0, 0.0, 0.0, 9.0)  # no circle at all: nothing has two sides of it
BATCH = 256  # pairs of bundles tried at a time: tables much over a megabyte cost more than they save


@dataclass(frozen=True, eq=False)
class Pieces:
    """Arcs cut to at most ``LONGEST``: ``p`` of them, each inside the triangle of its ends and its apex."""

    arc: Indices  # (p,)
    corners: Vectors  # (p, 3, 3): two ends, and where the tangents at the ends meet
    circle: Vectors  # (p, 4): normal and offset


@dataclass(frozen=True, eq=False)
class Tree:
    """Bundles of equal size, halved ``depth`` times; where two slots hold one piece, ``spare`` marks one."""

    piece: Indices  # (bundles, size)
    spare: NDArray[np.bool_]  # (bundles, size)
    depth: int


@dataclass(frozen=True, eq=False)
class Boxes:
    """Middle and half-width of a box round the corners and circles of each of ``b`` bundles."""

    corner: Vectors  # (b, 3, 3)
    corner_half: Vectors
    circle: Vectors  # (b, 4)
    circle_half: Vectors

    @property
    def reach(self) -> tuple[Vectors, Vectors]:
        """(b, 3) lowest and highest coordinates of anything in the bundle."""
        return (self.corner - self.corner_half).min(axis=1), (self.corner + self.corner_half).max(axis=1)


def candidates(laid: Laid) -> tuple[Indices, Indices]:
    """Arcs ``(k,), (k,)``, lower index first, of different spans; a pair may come more than once."""
    if not len(laid.offset):
        return np.zeros(0, np.intp), np.zeros(0, np.intp)
    pieces = _pieces(laid)
    tree = _tree(pieces)
    pairs = _bundle_pairs(pieces, tree)
    found = list(_met(pieces, tree, *pairs))
    one = np.concatenate([i for i, _ in found] or [np.zeros(0, np.intp)])
    two = np.concatenate([j for _, j in found] or [np.zeros(0, np.intp)])
    apart = laid.arc_span[one] != laid.arc_span[two]
    one, two = one[apart], two[apart]
    return np.minimum(one, two), np.maximum(one, two)


def _pieces(laid: Laid) -> Pieces:
    count = np.ceil(laid.sweep / LONGEST - 1e-9).astype(np.intp)
    arc = np.repeat(np.arange(len(count)), count)
    turn = (laid.sweep / count)[arc]
    begin = turn * (np.arange(len(arc)) - np.repeat(np.cumsum(count) - count, count))
    t = np.stack([begin, begin + turn, begin + turn / 2], axis=1)
    far = np.ones_like(t)
    far[:, 2] = 1 / np.cos(turn / 2)
    radius = laid.radius[arc]
    across, along = (far * np.cos(t) * radius[:, None])[..., None], (far * np.sin(t) * radius[:, None])[..., None]
    corners = across * laid.e1[arc, None] + along * laid.e2[arc, None]
    corners += (laid.offset[arc, None] * laid.normal[arc])[:, None]
    circle = np.concatenate([laid.normal[arc], laid.offset[arc, None]], axis=1)
    return _pointing_alike(Pieces(arc, corners, circle))


def _pointing_alike(pieces: Pieces) -> Pieces:
    """The same pieces all run one way, so that legs up and legs down a guideline share a bundle."""
    back = (pieces.corners[:, 1] - pieces.corners[:, 0]) @ np.array([0.5377, 0.6123, 0.5796]) < 0
    corners = np.where(back[:, None, None], pieces.corners[:, [1, 0, 2]], pieces.corners)
    return Pieces(pieces.arc, corners, np.where(back[:, None], -pieces.circle, pieces.circle))


def _tree(pieces: Pieces) -> Tree:
    held = len(pieces.arc)
    depth = max(0, int(np.ceil(np.log2(max(held, 1) / BUNDLE))))
    slots = -(-held // 2**depth) << depth
    piece = np.arange(slots) * held // slots
    spare = np.concatenate([[False], piece[1:] == piece[:-1]])[:slots]
    ends = pieces.corners[piece, :2].reshape(slots, 6)
    order = np.arange(slots)
    for level in range(depth):
        part = order.reshape(2**level, -1)
        inside = ends[part]
        widest = np.ptp(inside, axis=1).argmax(axis=1)
        value = np.take_along_axis(inside, widest[:, None, None], axis=2)[..., 0]
        halved = np.argpartition(value, part.shape[1] // 2, axis=1)
        order = np.take_along_axis(part, halved, axis=1)
    order = order.reshape(2**depth, -1)
    return Tree(piece[order], spare[order], depth)


def _boxes(pieces: Pieces, tree: Tree) -> list[Boxes]:
    """Boxes of every level, the whole ball first."""
    corners, circles = pieces.corners[tree.piece], pieces.circle[tree.piece]
    low, high = (
        np.concatenate([edge(corners, axis=1).reshape(-1, 9), edge(circles, axis=1)], axis=1)
        for edge in (np.min, np.max)
    )
    levels = []
    for _ in range(tree.depth + 1):
        middle, half = (low + high) / 2, (high - low) / 2
        corner, corner_half = middle[:, :9].reshape(-1, 3, 3), half[:, :9].reshape(-1, 3, 3)
        levels.append(Boxes(corner, corner_half, middle[:, 9:], half[:, 9:]))
        low, high = np.minimum(low[::2], low[1::2]), np.maximum(high[::2], high[1::2])
    return levels[::-1]


def _bundle_pairs(pieces: Pieces, tree: Tree) -> tuple[Indices, Indices]:
    """Pairs of smallest bundles that may meet, each pair once, a bundle with itself included."""
    levels = _boxes(pieces, tree)
    level = min(tree.depth, ALL_PAIRS_LEVEL)
    one, two = _near(levels[level], *np.triu_indices(2**level))
    while level < tree.depth:
        level += 1
        one = np.repeat(2 * one, 4) + np.tile([0, 0, 1, 1], len(one))
        two = np.repeat(2 * two, 4) + np.tile([0, 1, 0, 1], len(two))
        once = one <= two
        one, two = _near(levels[level], one[once], two[once])
    return one, two


def _near(boxes: Boxes, one: Indices, two: Indices) -> tuple[Indices, Indices]:
    """Those of the pairs whose boxes touch and that reach to both sides of each other's circles."""
    low, high = boxes.reach
    touch = np.ones(len(one), dtype=bool)
    for axis in range(3):
        below, above = low[:, axis], high[:, axis] + SLACK
        touch &= (below.take(one) <= above.take(two)) & (below.take(two) <= above.take(one))
    one, two = one[touch], two[touch]
    kept = _reaches_across(boxes, one, two)
    one, two = one[kept], two[kept]
    kept = _reaches_across(boxes, two, one)
    return one[kept], two[kept]


def _reaches_across(boxes: Boxes, one: Indices, two: Indices) -> NDArray[np.bool_]:
    """(k,) whether the corners of bundle ``one`` may lie on both sides of some circle of bundle ``two``.

    Side of a circle: normal . corner - offset.  Over two boxes it strays from its value at their
    middles by at most |normal| . corner_half + circle_half . (|corner| + corner_half).
    """
    circle, circle_half = boxes.circle.take(two, axis=0), boxes.circle_half.take(two, axis=0)
    size = np.abs(circle)
    lowest, highest = np.full(len(one), np.inf), np.full(len(one), -np.inf)
    for k in range(3):
        corner, half = boxes.corner[:, k].take(one, axis=0), boxes.corner_half[:, k].take(one, axis=0)
        side = np.einsum("ki,ki->k", corner, circle[:, :3]) - circle[:, 3]
        stray = np.einsum("ki,ki->k", half, size[:, :3])
        stray += np.einsum("ki,ki->k", np.abs(corner) + half, circle_half[:, :3]) + circle_half[:, 3]
        lowest, highest = np.minimum(lowest, side - stray), np.maximum(highest, side + stray)
    return (lowest <= SLACK) & (highest >= -SLACK)


def _met(pieces: Pieces, tree: Tree, one: Indices, two: Indices) -> Iterator[tuple[Indices, Indices]]:
    """Arcs of the bundles ``one`` and ``two`` (k,) that reach across each other's circles."""
    corners, circles = _matrices(pieces, tree)
    size = tree.piece.shape[1]
    arc = pieces.arc[tree.piece]
    wound = (pieces.circle[tree.piece, 3] != 0).any(axis=1)
    either = wound[one] | wound[two]
    for kinds, chosen in ((2, ~either), (3, either)):  # among straight legs the apex tells no more than the ends
        reach = corners[:, : kinds * size]
        of_one, of_two = one[chosen], two[chosen]
        for begin in range(0, len(of_one), BATCH):
            a, b = of_one[begin : begin + BATCH], of_two[begin : begin + BATCH]
            met = _straddle(reach.take(a, axis=0) @ circles.take(b, axis=0), size)
            met &= _straddle(reach.take(b, axis=0) @ circles.take(a, axis=0), size).transpose(0, 2, 1)
            slot, j = np.divmod(np.flatnonzero(met), size)
            k, i = np.divmod(slot, size)
            yield arc[a[k], i], arc[b[k], j]


def _matrices(pieces: Pieces, tree: Tree) -> tuple[NDArray[np.float32], NDArray[np.float32]]:
    """Corners (b, 3 size, 4) and circles (b, 4, size): their product is every corner's side of every circle."""
    bundles, size = tree.piece.shape
    corners = np.ones((bundles, 3, size, 4), np.float32)
    corners[..., :3] = pieces.corners[tree.piece].transpose(0, 2, 1, 3)
    circles = pieces.circle[tree.piece]
    circles[..., 3] *= -1
    circles[tree.spare] = NOWHERE
    return corners.reshape(bundles, 3 * size, 4), circles.transpose(0, 2, 1).astype(np.float32)


def _straddle(side: NDArray[np.float32], size: int) -> NDArray[np.bool_]:
    """(k, size, size) whether piece i has corners on both sides of circle j, from (k, 2 or 3 size, size)."""
    corners = side.reshape(len(side), -1, size, size).transpose(1, 0, 2, 3)
    low, high = reduce(np.minimum, corners), reduce(np.maximum, corners)
    return np.asarray((low <= np.float32(SLACK)) & (high >= np.float32(-SLACK)))
