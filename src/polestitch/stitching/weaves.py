"""Weave plans, for authors of techniques: which of two threads lies on top where they cross.

In: threads as circles ``normal . x = offset`` of a site's frame.  Out: crossings and who goes below.

The alternating weave: colour the fields between all threads like a chessboard; at every crossing the
thread on top turns, to the left, over a field of one and the same colour.  Then each thread goes over
and under by turns.  (The classical argument for alternating knot diagrams, from memory.)
"""

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from polestitch.errors import DesignError
from polestitch.sphere.arcs import Angles, Points, dot, unit
from polestitch.stitching.stitches import Beneath, Turn

ONE_POINT = 1e-6  # radians: a third thread this near a crossing goes through it


class Threads(NamedTuple):
    """``n`` circles, each the middle line of one thread or of a band of them."""

    normal: Points  # (n, 3)
    offset: Angles  # (n,) sine of how far it lies off its great circle


def crossed(one: Threads, two: Threads) -> Points:
    """Where ``n`` pairs of circles cross; (n, 2, 3), nan where they do not.

    The first of each pair of points has the second circle's normal to the left of the first one's.
    """
    lean = dot(one.normal, two.normal)
    size = np.where(np.abs(lean) < 1 - ONE_POINT, 1 - lean**2, np.nan)
    a, b = (one.offset - lean * two.offset) / size, (two.offset - lean * one.offset) / size
    base = a[:, None] * one.normal + b[:, None] * two.normal
    rest = 1 - dot(base, base)
    up = np.sqrt(np.where(rest > 0, rest, np.nan) / size)
    across = np.cross(one.normal, two.normal) * up[:, None]
    return np.stack([base + across, base - across], axis=1)


def second_below(threads: Threads, pair: tuple[int, int], points: Points, where: str) -> NDArray[np.bool_]:
    """(k,) whether the second thread of ``pair`` goes below the first at ``points`` (k, 3), woven by turns.

    ``DesignError`` at ``where`` if a third thread goes through the same point.
    """
    others = np.delete(np.arange(len(threads.offset)), pair)
    side = points @ threads.normal[others].T - threads.offset[others]
    if np.any(np.abs(side) < ONE_POINT):
        raise DesignError(
            where, "makes three threads meet in one point, where they cannot go by turns; change it a little"
        )
    dark = (side > 0).sum(axis=1) % 2 == 0
    turns = points @ np.cross(threads.normal[pair[0]], threads.normal[pair[1]]) > 0
    return np.asarray(dark != turns)


def turn_beside(normal: Points, start: Points, off: float) -> Turn:
    """One turn round the ball, ``off`` radians from the great circle about ``normal``; ``start`` lies on that."""
    return Turn(normal, float(np.sin(off)), unit(np.cos(off) * start + np.sin(off) * normal))


def beneath(found: list[tuple[int, Points]]) -> Beneath | None:
    """The plan of a row from the rows it goes under and the points (3,) where; None where there are none."""
    if not found:
        return None
    return Beneath(tuple(number for number, _ in found), np.array([at for _, at in found]))
