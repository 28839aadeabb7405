"""Which of two crossing threads lies on top: one relation of pairs over the whole ball.

In: ``Laid``, its crossings and the under rules of its layers.  Out: ``Relation``, and what a needle must pass.

Over and under is a relation of pairs, and may go in a ring (A over B over C over A), so no height of a
row can stand for it.  Without a rule the later thread lies over the earlier one; only the leg that closes
a row is drawn in under the row's first leg, so that every bite looks alike.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from polestitch.laying.crossings import Crossings
from polestitch.laying.groups import closed_rows
from polestitch.laying.laid import Ints, Laid
from polestitch.laying.rules import UnderRule, claims

__all__ = ["Passes", "Relation", "UnderRule", "closing", "over", "passes", "relation"]

Flags = NDArray[np.bool_]
NONE = -1


@dataclass(frozen=True, eq=False)
class Relation:
    """Who lies over whom at each of ``k`` crossings, and who says so.

    ``told`` and ``against`` are indices of rules, ``NONE`` where there is none.  Of two rules for one
    crossing the later holds; ``against`` is the one it overrules, if that asked for the opposite.
    """

    over: Flags  # (k,) the later thread lies over the earlier one
    told: Ints  # (k,)
    against: Ints  # (k,)
    open: Flags  # (k,) the rule that tells it leaves it open: it could not be kept, or did not come out even


@dataclass(frozen=True, eq=False)
class Passes:
    """How often the needle must slip under thread already laid, for each of ``w`` rows."""

    crossings: Ints  # (w,) crossings at which the row goes under earlier thread
    passes: Ints  # (w,) runs of them without an over between: one pass of the needle each


def relation(laid: Laid, crossings: Crossings, unders: tuple[UnderRule, ...] = ()) -> Relation:
    """All rules resolved into one relation, in their order."""
    lies_over = ~closing(laid, crossings)
    told, against = np.full((2, len(crossings)), NONE, dtype=np.int32)
    left = np.zeros(len(crossings), dtype=bool)
    for number, said in enumerate(claims(laid, crossings, unders)):
        asked = told[said.crossing] != NONE
        against[said.crossing] = np.where(asked & (lies_over[said.crossing] != said.over), told[said.crossing], NONE)
        lies_over[said.crossing], told[said.crossing], left[said.crossing] = said.over, number, said.open
    return Relation(lies_over, told, against, left)


def over(laid: Laid, crossings: Crossings, unders: tuple[UnderRule, ...] = ()) -> Flags:
    """(k,) whether the second thread lies over the first; of two rules for one crossing the later holds."""
    return relation(laid, crossings, unders).over


def closing(laid: Laid, crossings: Crossings) -> Flags:
    """(k,) where the last leg of a row crosses its first, at the bite that closes it."""
    one, two = laid.arc_span[crossings.first], laid.arc_span[crossings.second]
    legs = np.bincount(laid.span_row, minlength=len(laid.row_layer))
    begin = np.cumsum(legs) - legs
    row = laid.span_row[one]
    same = (row == laid.span_row[two]) & (legs[row] > 2) & closed_rows(laid)[row]
    return np.asarray(same & (one == begin[row]) & (two == begin[row] + legs[row] - 1))


def passes(laid: Laid, crossings: Crossings, lies_over: Flags) -> Passes:
    """The needle's passes under earlier thread, row by row; drawing in a closing bite is none, and ends none."""
    asked = np.flatnonzero(~closing(laid, crossings))
    order = asked[np.lexsort((crossings.t_second[asked], crossings.second[asked]))]
    row = laid.arc_row[crossings.second[order]]
    under = ~lies_over[order]
    begins = under.copy()
    begins[1:] &= ~(under[:-1] & (row[1:] == row[:-1]))
    rows = len(laid.row_layer)
    counts = (np.bincount(row[flags], minlength=rows).astype(np.int32) for flags in (under, begins))
    return Passes(*counts)
