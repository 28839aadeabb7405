"""How many rows lie over given places: where thread piles up.

In: ``Laid`` and points.  Out: counts, or the rows themselves.
"""

import numpy as np
from numpy.typing import NDArray

from polestitch.laying.laid import Ints, Laid
from polestitch.sphere.arcs import Points

BATCH = 256  # points tried at a time, so that the table of points and arcs stays small


def rows_over(laid: Laid, points: Points) -> Ints:
    """(k,) number of distinct rows whose thread covers each of ``points`` (k, 3)."""
    parts = [_covering(laid, points[k : k + BATCH]).sum(axis=1) for k in range(0, len(points), BATCH)]
    return np.concatenate([np.zeros(0, np.int32), *parts]).astype(np.int32)


def pile(laid: Laid, point: Points) -> Ints:
    """(k,) the rows over ``point`` (3,), in laying order."""
    return np.flatnonzero(_covering(laid, point[None])[0]).astype(np.int32)


def _covering(laid: Laid, points: Points) -> NDArray[np.bool_]:
    """(k, w) whether each row lies over each point: within half a pitch of one of its arcs, square ends."""
    rows = len(laid.row_layer)
    if not len(laid.offset):
        return np.zeros((len(points), rows), dtype=bool)
    middle, half = np.arcsin(laid.offset), laid.row_pitch[laid.arc_row] / 2
    across = points @ laid.normal.T
    within = (across >= np.sin(middle - half)) & (across <= np.sin(middle + half))
    t = np.arctan2(points @ laid.e2.T, points @ laid.e1.T) % (2 * np.pi)
    within &= t <= laid.sweep
    starts = np.flatnonzero(np.diff(laid.arc_row, prepend=-1))
    covering = np.zeros((len(points), rows), dtype=bool)
    covering[:, laid.arc_row[starts]] = np.logical_or.reduceat(within, starts, axis=1)
    return covering
