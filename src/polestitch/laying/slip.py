"""Which threads would slide sideways, and what holds them.

In: ``Laid``, its crossings and who lies on top.  Out: arrays and ``Sliding`` records.

A thread under tension stays put while its geodesic over its normal curvature is at most the friction
coefficient (slippage criterion of filament winding; abstract of a paper on non-geodesic winding of a
torus, Acta Materiae Compositae Sinica, fhclxb.buaa.edu.cn/article/id/11717).  On a sphere the parallel
at angle d from its great circle scores tan d, whatever the radius and the tension.  Neighbours and the
texture of the wrap help and are not counted.
"""

from bisect import bisect_left
from dataclasses import dataclass
from math import atan, ceil, floor

import numpy as np
from numpy.typing import NDArray

from polestitch.laying.crossings import Crossings
from polestitch.laying.laid import Ints, Laid
from polestitch.sphere.arcs import Angles

Flags = NDArray[np.bool_]


@dataclass(frozen=True, eq=False)
class Sliding:
    """One arc that friction alone does not hold, and the later threads that lock it."""

    arc: int
    row: int
    tendency: float  # no unit; above the friction coefficient
    locks: Ints  # (m,) rows that lie over it, each once, in laying order
    locked_by: int | None  # the row after which no stretch longer than the reach is free; None: never
    largest_gap: float  # radians on the ball: the longest stretch left free when all is laid
    keeper_pins: int  # to set before it is locked, one a reach


def slip_tendency(offset: Angles) -> Angles:
    """Geodesic over normal curvature of circles ``normal . x = offset``; zero for a great circle."""
    return np.asarray(np.abs(offset) / np.sqrt(1 - offset**2))


def holding_turns(pitch: float, friction: float) -> int:
    """How many turns each side of a band's centre turn hold by friction; ``pitch`` in radians on the ball."""
    return floor(atan(friction) / pitch)


def slipping(laid: Laid, friction: float) -> Ints:
    """(k,) the arcs that would slide."""
    return np.flatnonzero(slip_tendency(laid.offset) > friction).astype(np.int32)


def slides(laid: Laid, crossings: Crossings, lies_over: Flags, friction: float, reach: float) -> tuple[Sliding, ...]:
    """Every arc that would slide; a stretch up to ``reach`` (radians) between locks needs no pin.

    A crossing locks a thread when the other one lies over it, from the moment both are laid; the
    ends of an arc that does not close are held by their bites.
    """
    locks = _locks(laid, crossings, lies_over)
    return tuple(_sliding(laid, int(arc), locks.on(int(arc)), reach) for arc in slipping(laid, friction))


@dataclass(frozen=True, eq=False)
class _Locks:
    """Places where an arc is held down, by arc and then by the row that completes the lock."""

    arc: Ints
    t: Angles
    row: Ints  # the row over it
    since: Ints  # the row after which it holds

    def on(self, arc: int) -> "_Locks":
        """Those of one arc."""
        low, high = np.searchsorted(self.arc, arc), np.searchsorted(self.arc, arc, side="right")
        return _Locks(*(array[low:high] for array in vars(self).values()))


def _locks(laid: Laid, crossings: Crossings, lies_over: Flags) -> _Locks:
    under = np.where(lies_over, crossings.first, crossings.second)
    upper = np.where(lies_over, crossings.second, crossings.first)
    t = np.where(lies_over, crossings.t_first, crossings.t_second)
    row, since = laid.arc_row[upper], laid.arc_row[crossings.second]
    order = np.lexsort((since, under))
    return _Locks(under[order], t[order], row[order], since[order])


def _sliding(laid: Laid, arc: int, locks: _Locks, reach: float) -> Sliding:
    rows = np.unique(locks.since)

    def free(count: int) -> float:
        held = np.searchsorted(locks.since, rows[count - 1], side="right") if count else 0
        return _largest_gap(laid, arc, locks.t[:held])

    enough = bisect_left(range(len(rows) + 1), True, key=lambda count: free(count) <= reach)
    locked_by = None if enough > len(rows) else int(rows[enough - 1]) if enough else int(laid.arc_row[arc])
    return Sliding(
        arc=arc,
        row=int(laid.arc_row[arc]),
        tendency=float(slip_tendency(laid.offset[arc : arc + 1])[0]),
        locks=np.unique(locks.row),
        locked_by=locked_by,
        largest_gap=free(len(rows)),
        keeper_pins=ceil(laid.length[arc] / reach),
    )


def _largest_gap(laid: Laid, arc: int, t: Angles) -> float:
    """Radians on the ball of the longest stretch of an arc between locks at ``t`` (k,)."""
    sweep, radius = float(laid.sweep[arc]), float(laid.radius[arc])
    if sweep < 2 * np.pi:
        return radius * float(np.diff(np.sort(t), prepend=0.0, append=sweep).max())
    if not len(t):
        return radius * sweep
    around = np.sort(t)
    return radius * float(np.diff(around, append=around[0] + sweep).max())
