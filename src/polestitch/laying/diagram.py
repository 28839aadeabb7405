"""Closed rows and their crossings as a link diagram.

In: ``Laid``, its crossings, who lies over whom, and rows.  Out: ``Diagram``.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from polestitch.laying.crossings import Crossings
from polestitch.laying.laid import Laid
from polestitch.sphere.arcs import dot

Indices = NDArray[np.intp]
Flags = NDArray[np.bool_]


@dataclass(frozen=True, eq=False)
class Diagram:
    """``count`` rings with ``m`` crossings, seen from outside the ball.

    ``upper_at`` and ``lower_at`` say where along their rings the threads meet: numbers that only order them.
    """

    count: int
    upper: Indices  # (m,) ring on top
    lower: Indices  # (m,)
    sign: Indices  # (m,) 1 where the upper thread turns anticlockwise, by less than half a turn, onto the lower
    upper_at: Indices  # (m,)
    lower_at: Indices  # (m,)

    def of(self, rings: Sequence[int]) -> "Diagram":
        """The diagram of some rings alone, in the order given."""
        number = np.full(self.count, -1, dtype=np.intp)
        number[list(rings)] = np.arange(len(rings))
        kept = (number[self.upper] >= 0) & (number[self.lower] >= 0)
        rest = (array[kept] for array in (self.sign, self.upper_at, self.lower_at))
        return Diagram(len(rings), number[self.upper[kept]], number[self.lower[kept]], *rest)


def diagram(laid: Laid, crossings: Crossings, lies_over: Flags, rows: Sequence[int]) -> Diagram:
    """The crossings of ``rows`` among themselves."""
    number = np.full(len(laid.row_layer), -1, dtype=np.intp)
    number[list(rows)] = np.arange(len(rows))
    one, two = number[laid.arc_row[crossings.first]], number[laid.arc_row[crossings.second]]
    kept = np.flatnonzero((one >= 0) & (two >= 0))
    over = lies_over[kept]
    arcs = np.concatenate([crossings.first[kept], crossings.second[kept]])
    t = np.concatenate([crossings.t_first[kept], crossings.t_second[kept]])
    place = np.empty(len(arcs), dtype=np.intp)
    place[np.lexsort((t, arcs))] = np.arange(len(arcs))
    first_at, second_at = np.split(place, 2)
    sign = dot(np.cross(laid.normal[crossings.first[kept]], laid.normal[crossings.second[kept]]), crossings.point[kept])
    turned = np.where(over, -1, 1) * np.sign(sign).astype(np.intp)
    return Diagram(
        len(rows),
        np.where(over, two[kept], one[kept]),
        np.where(over, one[kept], two[kept]),
        turned,
        np.where(over, second_at, first_at),
        np.where(over, first_at, second_at),
    )
