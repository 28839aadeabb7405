"""One more row on a ball already laid, without building the ball again.

In: ``Laid`` with its crossings, a motif's frame and its rows, the last of them new, and what that row leans on.
Out: both with that row laid last.  A live editor shows this while the whole build catches up.
"""

from dataclasses import fields

import numpy as np
from numpy.typing import NDArray

from polestitch.laying.crossings import Crossings, crossings_among
from polestitch.laying.laid import Laid
from polestitch.laying.lay import one_row
from polestitch.laying.settle import Strands
from polestitch.sphere.arcs import Angles, Points, dot
from polestitch.stitching.motifs import Motif

Indices = NDArray[np.intp]


def with_row(laid: Laid, met: Crossings, motif: Motif, strands: Strands) -> tuple[Laid, Crossings]:
    """``laid`` and its crossings with the last row of ``motif`` laid on top; ``strands`` are the motif's so far."""
    row = one_row(motif, strands.laid(motif.rows[-1]))
    longer = _joined(laid, row)
    first = len(laid.offset)
    old, new = _near(longer, first)
    among = crossings_among(longer, old, new)
    both = Crossings(
        longer,
        np.concatenate([met.first, among.first]),
        np.concatenate([met.second, among.second]),
        np.concatenate([met.point, among.point]),
        np.concatenate([met.touches, among.touches]),
    )
    return longer, both


def _joined(laid: Laid, row: Laid) -> Laid:
    """Arrays end to end; the new row's indices count on."""
    shift = {"arc_span": len(laid.span_row), "span_row": len(laid.row_layer)}
    parts = {
        field.name: np.concatenate([getattr(laid, field.name), getattr(row, field.name) + shift.get(field.name, 0)])
        for field in fields(Laid)
    }
    return Laid(**{name: array.astype(getattr(laid, name).dtype) for name, array in parts.items()})


def _near(laid: Laid, first: int) -> tuple[Indices, Indices]:
    """Pairs of an arc and a later new one whose caps overlap, and that lie in different spans."""
    middle, reach = _caps(laid)
    gap = np.arccos(np.clip(middle @ middle[first:].T, -1, 1))
    old, new = np.nonzero(gap <= reach[:, None] + reach[None, first:])
    new = new + first
    keep = (old < new) & (laid.arc_span[old] != laid.arc_span[new])
    return old[keep], new[keep]


def _caps(laid: Laid) -> tuple[Points, Angles]:
    """Each arc's middle and the radius of a cap round it that holds the arc."""
    half = laid.sweep / 2
    middle = laid.at(np.arange(len(half), dtype=np.int32), half)
    reach = np.arccos(np.clip(dot(middle, laid.start), -1, 1))
    return middle, np.where(half > np.pi / 2, np.pi, reach) + 1e-9
