"""The shortest way that keeps beside thread already laid: a taut string leaning on a thread.

In: for each leg its two ends, and the thread it may lean on as a chain of great-circle arcs.
Out: the leg as such a chain.

A thread of width p leans on another where their centre lines lie one mean width apart, so what the string
leans on is the offset of the laid chain: at every corner a round arc, and between corners a parallel of a
great circle, which no string touches since the straight way between two of its points runs outside it.
In the gnomonic plane about the leg's middle great circles are straight, and the shortest way outside the
offset is the upper hull of its corners between the leg's two ends.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from polestitch.sphere.arcs import Angles, Points, arc_angle, cross, dot, unit

Ints = NDArray[np.intp]
# A round corner is drawn as tangents that turn no more than this at a time; they stand off it by d/8 of its
# square, 2 thousandths of a thread.
ROUND = 0.125
# A corner where the string turns less is left out: over 20 mm that is worth 2 micrometres.
STRAIGHT = 4e-4


@dataclass(frozen=True, eq=False)
class Legs:
    """What ``q`` legs ask for: their ends, on which side of the former thread they keep, and where they are free.

    ``side`` is +1 left, -1 right of the former leg as it runs, 0 where there is nothing to keep to.
    ``free`` holds how far from either end the bite lets it come nearer, along the former leg.
    """

    starts: Points  # (q, 3)
    ends: Points  # (q, 3)
    side: NDArray[np.float64]  # (q,)
    free: Angles  # (q, 2)


def beside(legs: Legs, former: Sequence[Points], aside: float) -> tuple[Points, ...]:
    """(m + 1, 3) corners of each leg, ``aside`` radians off the (n + 1, 3) corners of its former leg."""
    corners, of_leg = _supports(legs, former, aside)
    straight = np.stack([legs.starts, legs.ends], axis=1)
    chains = list(straight)
    x, y, half = _flat(legs, corners, of_leg)
    bars = np.flatnonzero((np.abs(x) < half[of_leg]) & (y > 0))
    bars = bars[np.lexsort((x[bars], of_leg[bars]))]
    edges = np.flatnonzero(np.diff(of_leg[bars], prepend=-1, append=-1))
    for first, last in pairwise(edges.tolist()):
        leg, here = int(of_leg[bars[first]]), bars[first:last]
        kept = _hull(x[here].tolist(), y[here].tolist(), float(half[leg]))
        chains[leg] = np.concatenate([straight[leg, :1], corners[here[kept]], straight[leg, 1:]])
    return tuple(chains)


def _hull(xs: list[float], ys: list[float], half: float) -> list[int]:
    """Indices of the corners a string from (-half, 0) to (half, 0) keeps over them; ``xs`` ascend."""
    kept, px, py = [-1], [-half], [0.0]
    for k, (x, y) in enumerate(zip([*xs, half], [*ys, 0.0])):
        while len(kept) > 1:
            ux, uy, vx, vy = px[-1] - px[-2], py[-1] - py[-2], x - px[-1], y - py[-1]
            if uy * vx - ux * vy > STRAIGHT * (ux * vx + uy * vy):
                break
            del kept[-1], px[-1], py[-1]
        kept.append(k)
        px.append(x)
        py.append(y)
    return kept[1:-1]


def _flat(legs: Legs, corners: Points, of_leg: Ints) -> tuple[Angles, Angles, Angles]:
    """Corners in the plane of their leg: (n,) along it, (n,) to its own side; and (q,) half the leg there."""
    middle, ahead = unit(legs.starts + legs.ends), unit(legs.ends - legs.starts)
    own = legs.side[:, None] * cross(middle, ahead)
    depth = dot(corners, middle[of_leg])
    depth = np.where(depth > 0, depth, np.nan)
    x, y = dot(corners, ahead[of_leg]) / depth, dot(corners, own[of_leg]) / depth
    return x, y, dot(legs.ends, ahead) / dot(legs.ends, middle)


@dataclass(frozen=True, eq=False)
class _Pieces:
    """The great-circle arcs of all former legs end to end: ``n`` pieces."""

    start: Points  # (n, 3)
    normal: Points  # (n, 3) also the way to the left
    ahead: Points  # (n, 3) tangent at the start
    length: Angles  # (n,)
    begins: Angles  # (n,) sum of all lengths before it
    of_leg: Ints  # (n,)
    first: Ints  # (q,) each leg's first piece

    def at(self, piece: Ints, along: Angles) -> Points:
        """Points ``along`` radians from the starts of ``piece``."""
        return np.cos(along)[:, None] * self.start[piece] + np.sin(along)[:, None] * self.ahead[piece]


def _pieces(former: Sequence[Points]) -> _Pieces:
    counts = np.array([len(chain) - 1 for chain in former])
    flat = np.concatenate(former)
    last = np.cumsum(counts + 1) - 1
    starts = np.delete(np.arange(len(flat)), last)
    a, b = flat[starts], flat[starts + 1]
    normal, length = unit(cross(a, b)), arc_angle(a, b)
    first = np.cumsum(counts) - counts
    return _Pieces(
        a,
        normal,
        cross(normal, a),
        length,
        np.cumsum(length) - length,
        np.repeat(np.arange(len(counts)), counts),
        first,
    )


def _supports(legs: Legs, former: Sequence[Points], aside: float) -> tuple[Points, Ints]:
    """What each leg may lean on: the offset's corners and the two ends of its stretch, with the leg of each."""
    pieces = _pieces(former)
    low = _passed(pieces, legs.starts) + legs.free[:, 0]
    high = _passed(pieces, legs.ends) - legs.free[:, 1]
    wanted = np.flatnonzero((legs.side != 0) & (low < high))
    ends = [_edge(pieces, wanted, at[wanted], aside * legs.side) for at in (low, high)]
    corners, of_leg = _round(pieces, (low, high), aside, legs.side)
    return np.concatenate([*ends, corners]), np.concatenate([wanted, wanted, of_leg])


def _passed(pieces: _Pieces, points: Points) -> Angles:
    """(q,) how far along all pieces the place of each leg's thread lies that is nearest to the leg's point."""
    here = points[pieces.of_leg]
    along = np.arctan2(dot(pieces.ahead, here), dot(pieces.start, here))
    along = np.clip(along, 0.0, pieces.length)
    nearness = np.cos(along) * dot(pieces.start, here) + np.sin(along) * dot(pieces.ahead, here)
    best = np.maximum.reduceat(nearness, pieces.first)
    where = np.flatnonzero(nearness == best[pieces.of_leg])
    _, pick = np.unique(pieces.of_leg[where], return_index=True)
    return np.asarray((pieces.begins + along)[where[pick]])


def _edge(pieces: _Pieces, legs: Ints, at: Angles, aside: Angles) -> Points:
    """The offset's places at ``at`` along all pieces, one for each of ``legs``."""
    last = np.append(pieces.first[1:], len(pieces.length)) - 1
    piece = np.clip(np.searchsorted(pieces.begins, at, side="right") - 1, pieces.first[legs], last[legs])
    on = pieces.at(piece, at - pieces.begins[piece])
    off = aside[legs][:, None]
    return np.asarray(np.cos(off) * on + np.sin(off) * pieces.normal[piece])


def _round(pieces: _Pieces, stretch: tuple[Angles, Angles], aside: float, side: Angles) -> tuple[Points, Ints]:
    """Corners of the tangents round each bend that bulges to the leg's own side, within its stretch."""
    later = np.flatnonzero(pieces.of_leg[1:] == pieces.of_leg[:-1]) + 1
    leg, begins = pieces.of_leg[later], pieces.begins[later]
    bend = pieces.start[later]
    before, after = pieces.normal[later - 1], pieces.normal[later]
    turn = np.arctan2(dot(cross(before, after), bend), dot(before, after))
    low, high = stretch
    keep = np.flatnonzero((side[leg] * turn < 0) & (begins > low[leg]) & (begins < high[leg]))
    count = np.ceil(np.abs(turn[keep]) / ROUND).astype(np.intp)
    each = np.repeat(keep, count)
    nth = np.arange(len(each)) - np.repeat(np.cumsum(count) - count, count)
    part = turn[each] / np.repeat(count, count)
    angle = part * (nth + 0.5)
    way = np.cos(angle)[:, None] * before[each] + np.sin(angle)[:, None] * cross(bend[each], before[each])
    off = (side[leg[each]] * np.arctan(np.tan(aside) / np.cos(part / 2)))[:, None]
    return np.cos(off) * bend[each] + np.sin(off) * way, leg[each]
