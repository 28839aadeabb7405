"""What a relation of over and under asks of the order of stitching, thread by thread.

In: ``Laid``, its crossings and who lies over whom.  Out: ``Demands``.
"""

from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from polestitch.laying.crossings import Crossings
from polestitch.laying.laid import Laid
from polestitch.laying.weave import closing

Flags = NDArray[np.bool_]
Indices = NDArray[np.intp]


@dataclass(frozen=True, eq=False)
class Demands:
    """Pairs of ``count`` threads, the first to be laid before the second, in laying order.

    ``hard`` pairs must keep: legs of a row, rows of a motif.  Each of the ``soft`` pairs stands for
    ``weight`` crossings, at which the needle passes under if the order does not keep it.
    """

    count: int
    soft: Indices  # (e, 2)
    weight: Indices  # (e,)
    hard: Indices  # (h, 2)
    crossing: Indices  # (m,) crossings between two threads
    lower_of: Indices  # (m,) thread below at each of them
    upper_of: Indices  # (m,)
    own: Indices  # (q,) crossings of a thread under itself, which no order helps
    itself: Indices  # (q,) that thread

    @property
    def within(self) -> int:
        """Crossings that need the needle in any order."""
        return len(self.own)


def demands(laid: Laid, crossings: Crossings, lies_over: Flags, by: Literal["rows", "spans"]) -> Demands:
    """The demands of every crossing; a closing bite, drawn in under its own first leg, makes none."""
    thread = laid.arc_row if by == "rows" else laid.arc_span
    count = len(laid.row_layer if by == "rows" else laid.span_row)
    one, two = thread[crossings.first].astype(np.intp), thread[crossings.second].astype(np.intp)
    lower, upper = np.where(lies_over, one, two), np.where(lies_over, two, one)
    drawn_in = closing(laid, crossings)
    between = np.flatnonzero((one != two) & ~drawn_in)
    own = np.flatnonzero((one == two) & ~lies_over & ~drawn_in)
    keys, weight = np.unique(lower[between] * count + upper[between], return_counts=True)
    soft = np.stack([keys // max(count, 1), keys % max(count, 1)], axis=1)
    chains = _chains(laid, by)
    return Demands(count, soft, weight, chains, between, lower[between], upper[between], own, one[own])


def _chains(laid: Laid, by: Literal["rows", "spans"]) -> Indices:
    """(h, 2) each row of a motif after the one before it; of spans, each leg as well."""
    rows = np.lexsort((np.arange(len(laid.row_layer)), laid.row_motif, laid.row_layer))
    same = np.diff(laid.row_layer[rows]) == 0
    same &= np.diff(laid.row_motif[rows]) == 0
    chains = np.stack([rows[:-1][same], rows[1:][same]], axis=1)
    if by == "rows":
        return chains
    begin = np.searchsorted(laid.span_row, np.arange(len(laid.row_layer)))
    end = np.searchsorted(laid.span_row, np.arange(len(laid.row_layer)), side="right") - 1
    leg = np.flatnonzero(np.diff(laid.span_row) == 0)
    return np.concatenate([np.stack([leg, leg + 1], axis=1), np.stack([end[chains[:, 0]], begin[chains[:, 1]]], 1)])
