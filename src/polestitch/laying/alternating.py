"""The alternating weave of bands on great circles: over, under, over, under along every one.

In: one normal a circle.  Out: ``Alternating``.

It exists wherever no more than two circles meet at a point, and is unique but for one free bit: colour
the faces between the circles like a chessboard; at every crossing the strand on top turns, anticlockwise,
over the same colour.  (The classical argument for alternating knot diagrams, from memory.)
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from polestitch.errors import DesignError
from polestitch.laying.laid import Ints
from polestitch.sphere.arcs import Points, unit

ONE_POINT = 1e-9  # a third circle this near a crossing goes through it


@dataclass(frozen=True, eq=False)
class Alternating:
    """Both crossings of every pair of circles; ``n`` circles make ``n (n - 1)`` of them."""

    first: Ints  # (k,)
    second: Ints  # (k,) the later circle
    point: Points  # (k, 3)
    over: NDArray[np.bool_]  # (k,) whether the second lies over the first

    @property
    def unders(self) -> int:
        """At how many crossings the needle must pass under an earlier band."""
        return int(np.count_nonzero(~self.over))


def alternating(normals: Points, flipped: bool = False) -> Alternating:
    """The weave with the fewest passes under, or the opposite one.

    ``normals`` is (n, 3), one a great circle, in laying order.  Raises ``DesignError`` where three or
    more circles meet at one point, which has no alternation to follow.
    """
    first, second = np.triu_indices(len(normals), 1)
    first, second = np.tile(first, 2), np.tile(second, 2)
    sign = np.repeat([1.0, -1.0], len(first) // 2)
    point = sign[:, None] * unit(np.cross(normals[first], normals[second]))
    side = point @ normals.T
    own = np.arange(len(normals))
    side[(own == first[:, None]) | (own == second[:, None])] = -1.0
    if np.any(np.abs(side) < ONE_POINT):
        raise DesignError("", "Three or more bands meet at one point; move one of them, or lay them in plain order.")
    dark = (side > 0).sum(axis=1) % 2 == 0  # the quarter on the positive side of both
    over = dark == (sign > 0)
    if (2 * np.count_nonzero(over) < len(over)) != flipped:
        over = ~over
    return Alternating(first.astype(np.int32), second.astype(np.int32), point, over)
