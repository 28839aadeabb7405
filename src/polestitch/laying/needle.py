"""Where the needle passes under what, row by row and leg by leg.

In: ``Laid``, its crossings and who lies over whom.  Out: ``Meeting`` records in the order a thread comes to them.
"""

from collections.abc import Iterator
from itertools import groupby
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from polestitch.laying.crossings import Crossings
from polestitch.laying.laid import Laid
from polestitch.laying.weave import closing

Flags = NDArray[np.bool_]
Indices = NDArray[np.intp]


class Meeting(NamedTuple):
    """A run of earlier threads of one motif that a leg takes alike: all under, or all over."""

    leg: int  # counted from 0 in its row
    under: bool
    layer: int  # whose threads
    motif: int  # 0-based in that layer
    threads: int  # how many


def meetings(laid: Laid, crossings: Crossings, lies_over: Flags, row: int, own: bool = False) -> tuple[Meeting, ...]:
    """What ``row`` meets of the threads laid before it, on the legs that go under any; none where it only goes over.

    How it takes threads of its own motif is for the technique to tell, and left out unless ``own``.
    """
    mine = np.flatnonzero((laid.arc_row[crossings.second] == row) & ~closing(laid, crossings))
    if not own:
        mine = mine[_strange(laid, crossings)[mine]]
    if lies_over[mine].all():
        return ()
    mine = mine[np.lexsort((crossings.t_second[mine], crossings.second[mine]))]
    legs = laid.arc_span[crossings.second[mine]] - int(np.searchsorted(laid.span_row, row))
    under = ~lies_over[mine]
    told = np.isin(legs, legs[under])
    return tuple(_runs(laid, crossings.first[mine[told]], legs[told], under[told]))


def _strange(laid: Laid, crossings: Crossings) -> Flags:
    """(k,) whether the two threads are of different motifs."""
    one, two = laid.arc_row[crossings.first], laid.arc_row[crossings.second]
    return np.asarray((laid.row_layer[one] != laid.row_layer[two]) | (laid.row_motif[one] != laid.row_motif[two]))


def _runs(laid: Laid, others: NDArray[np.int32], legs: NDArray[np.int32], under: Flags) -> Iterator[Meeting]:
    rows = laid.arc_row[others]
    columns = (legs, under, laid.row_layer[rows], laid.row_motif[rows])
    met = zip(*(column.tolist() for column in columns))
    for (leg, below, layer, motif), run in groupby(met):
        yield Meeting(leg, below, layer, motif, len(list(run)))


def rows_under(laid: Laid, crossings: Crossings, lies_over: Flags, own: bool = False) -> Indices:
    """Indices of the rows whose needle passes under threads of other motifs (or, if ``own``, of its own too)."""
    under = ~lies_over & ~closing(laid, crossings)
    if not own:
        under &= _strange(laid, crossings)
    return np.unique(laid.arc_row[crossings.second[under]])
