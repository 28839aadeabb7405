"""Over and under as marked in the rows themselves: along a span, or crossing by crossing of a weave plan.

In: ``Laid``, its crossings, the motifs and the order of work.  Out: flags that correct the layers' rules.
"""

from collections.abc import Iterator, Sequence
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from polestitch.laying.crossings import Crossings
from polestitch.laying.laid import Laid
from polestitch.laying.weave import closing
from polestitch.sphere.arcs import Points
from polestitch.stitching.motifs import Motif
from polestitch.stitching.schedule import Work
from polestitch.stitching.stitches import Beneath, Row

Flags = NDArray[np.bool_]
Indices = NDArray[np.intp]


class _Worked(NamedTuple):
    """A laid row: what it was stitched as, and the frame that took it to the ball."""

    row: Row
    frame: Points


def as_marked(
    laid: Laid, crossings: Crossings, lies_over: Flags, motifs: Sequence[Motif], order: Sequence[Work]
) -> Flags:
    """``lies_over`` (k,) with every mark of every row in it; a mark holds against the layer's rules."""
    worked = [_Worked(motifs[work.motif].rows[work.row], motifs[work.motif].frame) for work in order]
    marked = lies_over.copy()
    later = laid.arc_row[crossings.second]
    # The leg that closes a row is drawn in under its first; a row that ends open has no such leg.
    ends_open = np.array([not one.row.closed for one in worked], dtype=bool)
    marked[closing(laid, crossings) & ends_open[later]] = True
    chosen = [k for k, one in enumerate(worked) if one.row.under or one.row.beneath]
    for k in chosen:
        mine = np.flatnonzero(later == k)
        if worked[k].row.under:
            for crossing, over in _along(laid, crossings, mine, (k, worked[k].row.under)):
                marked[crossing] = over
        if worked[k].row.beneath:
            marked[_beneath(laid, crossings, mine, (k, worked[k]))] = False
    return marked


def _along(
    laid: Laid, crossings: Crossings, mine: Indices, row: tuple[int, tuple[str, ...]]
) -> Iterator[tuple[int, bool]]:
    """Each marked crossing of one row, as its thread meets them, and whether the row lies over there."""
    number, marks = row
    arcs = crossings.second[mine]
    ordered = mine[np.lexsort((crossings.t_second[mine], arcs))]
    first = int(np.searchsorted(laid.span_row, number))
    met: dict[int, int] = {}
    for crossing, span in zip(ordered.tolist(), (laid.arc_span[crossings.second[ordered]] - first).tolist()):
        if marks[span]:
            nth = met[span] = met.get(span, -1) + 1
            yield crossing, marks[span][nth % len(marks[span])] == "o"


def _beneath(laid: Laid, crossings: Crossings, mine: Indices, worked: tuple[int, _Worked]) -> Indices:
    """The crossings of one row at which its weave plan sends it below."""
    number, (row, frame) = worked
    plan = row.beneath or Beneath(())
    other = laid.arc_row[crossings.first[mine]]
    same = (laid.row_layer[other] == laid.row_layer[number]) & (laid.row_motif[other] == laid.row_motif[number])
    mine, named = mine[same], laid.row_number[other[same]]
    if plan.points is None:
        return np.asarray(mine[np.isin(named, plan.rows)])
    gaps = np.linalg.norm(crossings.point[mine][:, None] - (plan.points @ frame.T)[None], axis=2)
    meant = (gaps < plan.within) & (named[:, None] == np.array(plan.rows)[None])
    return np.asarray(mine[meant.any(axis=1)])
