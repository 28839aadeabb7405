"""Which of two crossing threads lies on top.

In: ``Laid``, its crossings and the under rules of its layers.  Out: one flag a crossing.

Over and under is a relation of pairs, and may go in a ring (A over B over C over A), so no height of a
row can stand for it.  Without a rule the later thread lies over the earlier one.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from graphlib import CycleError, TopologicalSorter
from heapq import heappop, heappush
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from polestitch.laying.crossings import Crossings
from polestitch.laying.groups import Along, alternately
from polestitch.laying.laid import Ints, Laid

Flags = NDArray[np.bool_]
Indices = NDArray[np.intp]


@dataclass(frozen=True)
class UnderRule:
    """``layer`` goes under ``other``: at all their crossings, or group by group in turn along its thread.

    A layer that names itself goes under its own earlier threads.
    """

    layer: int
    other: int
    rule: Literal["all", "under first", "over first"]


@dataclass(frozen=True, eq=False)
class Passes:
    """How often the needle must slip under thread already laid, for each of ``w`` rows."""

    crossings: Ints  # (w,) crossings at which the row goes under earlier thread
    passes: Ints  # (w,) runs of them without an over between: one pass of the needle each


def over(laid: Laid, crossings: Crossings, unders: tuple[UnderRule, ...] = ()) -> Flags:
    """(k,) whether the second thread lies over the first; of two rules for one crossing the later holds."""
    lies_over = np.ones(len(crossings), dtype=bool)
    layers = laid.row_layer[laid.arc_row]
    first, second = layers[crossings.first], layers[crossings.second]
    for under in unders:
        own_second = (second == under.layer) & (first == under.other)
        own_first = (first == under.layer) & (second == under.other) & ~own_second
        lies_over[own_second], lies_over[own_first] = False, True
        if under.rule != "all":
            along = _along(crossings, np.flatnonzero(own_second | own_first), own_second)
            below = alternately(laid, along, under.rule == "under first")
            lies_over[along.crossing] = below != own_second[along.crossing]
    return lies_over


def passes(laid: Laid, crossings: Crossings, lies_over: Flags) -> Passes:
    """The needle's passes under earlier thread, row by row."""
    order = np.lexsort((crossings.t_second, crossings.second))
    row = laid.arc_row[crossings.second[order]]
    under = ~lies_over[order]
    begins = under.copy()
    begins[1:] &= ~(under[:-1] & (row[1:] == row[:-1]))
    rows = len(laid.row_layer)
    counts = (np.bincount(row[flags], minlength=rows).astype(np.int32) for flags in (under, begins))
    return Passes(*counts)


def order_without_passes(laid: Laid, crossings: Crossings, lies_over: Flags) -> tuple[int, ...] | None:
    """An order of the rows in which every row lies over what is there already; None where there is none.

    Rows keep their order where they can; a row that crosses itself both ways has none either.
    """
    one, two = laid.arc_row[crossings.first], laid.arc_row[crossings.second]
    lower, upper = np.where(lies_over, one, two), np.where(lies_over, two, one)
    if np.any((one == two) & ~lies_over):
        return None
    sorter: TopologicalSorter[int] = TopologicalSorter(dict.fromkeys(range(len(laid.row_layer)), ()))
    for low, high in np.unique(np.stack([lower, upper], axis=1)[one != two], axis=0).tolist():
        sorter.add(high, low)
    try:
        sorter.prepare()
    except CycleError:
        return None
    return tuple(_lowest_first(sorter))


def _lowest_first(sorter: TopologicalSorter[int]) -> Iterator[int]:
    """Rows from the bottom up, of those that are free the earliest first."""
    free: list[int] = []
    while sorter.is_active():
        for row in sorter.get_ready():
            heappush(free, row)
        yield (row := heappop(free))
        sorter.done(row)


def _along(crossings: Crossings, chosen: Indices, own_second: Flags) -> Along:
    """The ``chosen`` crossings (m,) as the ruled layer's threads meet them."""
    second = own_second[chosen]
    one, two = crossings.first[chosen], crossings.second[chosen]
    t = np.where(second, crossings.t_second[chosen], crossings.t_first[chosen])
    return Along(chosen, np.where(second, two, one), np.where(second, one, two), t, crossings.point[chosen])
