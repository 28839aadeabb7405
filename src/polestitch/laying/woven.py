"""The alternating weave of any closed paths: over, under, over, under along every thread.

In: ``Laid`` and some of its crossings.  Out: ``Woven``.

Each thread asks that two crossings that follow each other along it lie differently; so the crossings of
a diagram are coloured with two colours.  Closed curves with simple crossings always allow it, and leave
one free bit for each part that hangs together (the classical argument for knot diagrams: colour the faces
like a chessboard, from memory).  Where threads end, or three meet in a point, it may fail; then as much
as a spanning tree can hold is kept, and the rest is told.
"""

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from polestitch.laying.crossings import Crossings
from polestitch.laying.groups import bundles, closed_rows
from polestitch.laying.laid import Laid

Flags = NDArray[np.bool_]
Indices = NDArray[np.intp]

ONE_POINT = 1e-9  # radians along a thread: crossings as near as this are one, of three threads or more
SEAM = 2.0  # weight of asking across a row's own start: given up before anything else


class Woven(NamedTuple):
    """``over``: whether the second thread lies over the first; ``open``: where the weave cannot be kept."""

    over: Flags  # (m,)
    open: Flags  # (m,)


class _Asked(NamedTuple):
    """``e`` pairs of neighbours along a thread; ``odd``: the flags of the two crossings must differ."""

    one: Indices
    two: Indices
    odd: Flags
    weight: NDArray[np.float64]


def woven(laid: Laid, crossings: Crossings, chosen: Indices, banded: bool = False) -> Woven:
    """The weave of crossings ``chosen`` (m,) among themselves with the fewest unders, part by part.

    ``banded``: rows that lie beside each other go over and under together, as one band.
    """
    if not len(chosen):
        return Woven(np.ones(0, dtype=bool), np.zeros(0, dtype=bool))
    asked, close = _asked(laid, crossings, chosen, banded)
    over = _coloured(len(chosen), asked)
    kept = (over[asked.one] != over[asked.two]) == asked.odd
    open_ = np.zeros(len(chosen), dtype=bool)
    open_[asked.two[~kept]] = True
    open_[close] = True
    return Woven(over, open_)


def _asked(laid: Laid, crossings: Crossings, chosen: Indices, banded: bool) -> tuple[_Asked, Indices]:
    """What every thread asks of neighbours along it; and the crossings that share their point with another."""
    count = len(chosen)
    own = np.concatenate([crossings.first[chosen], crossings.second[chosen]])
    other = np.concatenate([crossings.second[chosen], crossings.first[chosen]])
    t = np.concatenate([crossings.t_first[chosen], crossings.t_second[chosen]])
    order = np.lexsort((t, own))
    row, arc, side = laid.arc_row[own[order]], own[order], order >= count
    with_ = bundles(laid, other[order]) if banded else None
    here = np.flatnonzero(row[1:] == row[:-1])
    one, two = here, here + 1
    near = (arc[one] == arc[two]) & (np.abs(t[order[one]] - t[order[two]]) * laid.radius[arc[one]] < ONE_POINT)
    begin = np.flatnonzero(np.diff(row, prepend=-1))
    end = np.append(begin[1:], len(row)) - 1
    home = closed_rows(laid)[row[begin]] & (end > begin)
    one, two = np.concatenate([one, end[home]]), np.concatenate([two, begin[home]])
    weight = np.repeat([1.0, SEAM], [len(here), int(home.sum())])
    together = np.zeros(len(one), dtype=bool) if with_ is None else _together(laid, with_, other[order], (one, two))
    odd = ~together ^ side[one] ^ side[two]
    crossing = order % count
    return _Asked(crossing[one], crossing[two], odd, weight), crossing[here[near] + 1]


def _together(laid: Laid, with_: Indices, other: NDArray[np.int32], pair: tuple[Indices, Indices]) -> Flags:
    """Whether both neighbours are crossings with one bundle, and not with the same thread of it twice."""
    one, two = pair
    return np.asarray((with_[one] == with_[two]) & (laid.arc_span[other[one]] != laid.arc_span[other[two]]))


def _coloured(count: int, asked: _Asked) -> Flags:
    """(m,) flags that keep everything asked along a lightest spanning tree, most of each part True."""
    from scipy.sparse import coo_matrix
    from scipy.sparse.csgraph import connected_components, minimum_spanning_tree

    low, high = np.minimum(asked.one, asked.two), np.maximum(asked.one, asked.two)
    order = np.lexsort((asked.weight, high, low))
    first = order[np.diff(low[order] * count + high[order], prepend=-1) != 0]
    first = first[low[first] != high[first]]
    lightest = coo_matrix((asked.weight[first], (low[first], high[first])), shape=(count, count))
    tree = minimum_spanning_tree(lightest).tocoo()
    known = low[first] * count + high[first]
    ends = np.minimum(tree.row, tree.col).astype(np.intp), np.maximum(tree.row, tree.col).astype(np.intp)
    odd = asked.odd[first][np.searchsorted(known, ends[0] * count + ends[1])]
    # Every crossing stands twice, once for each flag; what hangs together is one choice for a whole part.
    one = np.concatenate([ends[0], ends[0] + count])
    two = np.concatenate([ends[1] + count * odd, ends[1] + count * ~odd])
    links = coo_matrix((np.ones(len(one)), (one, two)), shape=(2 * count, 2 * count))
    _, label = connected_components(links, directed=False)
    over = label[:count] < label[count:]
    _, part = np.unique(np.minimum(label[:count], label[count:]), return_inverse=True)
    most = np.bincount(part, weights=over) * 2 >= np.bincount(part)
    return np.asarray(over == most[part])
