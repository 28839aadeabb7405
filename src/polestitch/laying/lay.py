"""Lay the rows on the ball: settle each motif in its own frame, turn it to its place, put all in order.

In: motifs and the order of work.  Out: ``Laid``.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from polestitch.laying.laid import Floats, Ints, Laid
from polestitch.laying.settle import Settled, settled
from polestitch.sphere.arcs import Points, arc_angle, cross, unit
from polestitch.stitching.motifs import Motif
from polestitch.stitching.schedule import Work
from polestitch.stitching.stitches import Row

Indices = NDArray[np.integer]


@dataclass(frozen=True, eq=False)
class _Arcs:
    """One motif's arcs in its own frame, row after row; ``spans`` (a,) counts within the motif."""

    normal: Points
    offset: Floats
    start: Points
    sweep: Floats
    spans: Ints
    span_row: Ints  # (s,) index of the row within the motif


def lay(motifs: Sequence[Motif], order: Sequence[Work]) -> Laid:
    """All thread in laying order; motifs that share their rows are settled once."""
    own: dict[int, _Arcs] = {}
    for motif in motifs:
        if id(motif.rows) not in own:
            own[id(motif.rows)] = _arcs(motif.rows)
    return _in_order(motifs, [_placed(own[id(motif.rows)], motif.frame) for motif in motifs], order)


def one_row(motif: Motif, thread: Settled) -> Laid:
    """The last row of ``motif`` alone, settled as ``thread``."""
    arcs = _placed(_of_row(motif.rows[-1], thread), motif.frame)
    spans = int(arcs.spans[-1]) + 1
    whole = replace(arcs, span_row=np.zeros(spans, dtype=np.int32))
    last = replace(motif, rows=motif.rows[-1:], threads=motif.threads[-1:])
    return _in_order([last], [whole], [Work(0, 0)])


def _arcs(rows: Sequence[Row]) -> _Arcs:
    parts = [_of_row(row, thread) for row, thread in zip(rows, settled(rows))]
    spans = np.cumsum([0, *(int(part.spans[-1]) + 1 for part in parts)])
    return _Arcs(
        normal=np.concatenate([part.normal for part in parts]),
        offset=np.concatenate([part.offset for part in parts]),
        start=np.concatenate([part.start for part in parts]),
        sweep=np.concatenate([part.sweep for part in parts]),
        spans=np.concatenate([part.spans + first for part, first in zip(parts, spans)]).astype(np.int32),
        span_row=np.repeat(np.arange(len(parts)), np.diff(spans)).astype(np.int32),
    )


def _of_row(row: Row, thread: Settled) -> _Arcs:
    one = np.zeros(1, dtype=np.int32)
    if row.turn is not None:
        turn = row.turn
        whole = np.array([2 * np.pi])
        return _Arcs(turn.normal[None], np.array([turn.offset]), turn.start[None], whole, one, one)
    starts = np.concatenate([chain[:-1] for chain in thread.chains])
    ends = np.concatenate([chain[1:] for chain in thread.chains])
    spans = np.repeat(np.arange(len(thread.chains)), [len(chain) - 1 for chain in thread.chains])
    normal = unit(cross(starts, ends))
    return _Arcs(normal, np.zeros(len(starts)), starts, arc_angle(starts, ends), spans.astype(np.int32), one)


def _placed(arcs: _Arcs, frame: Points) -> _Arcs:
    # A normal is an axial vector: where the frame mirrors, it turns over, and the offset with it.
    hand = 1.0 if np.linalg.det(frame) > 0 else -1.0
    return _Arcs(
        hand * arcs.normal @ frame.T, hand * arcs.offset, arcs.start @ frame.T, arcs.sweep, arcs.spans, arcs.span_row
    )


def _in_order(motifs: Sequence[Motif], placed: Sequence[_Arcs], order: Sequence[Work]) -> Laid:
    """Concatenate all motifs, then permute whole rows into the order of work."""
    row_base = np.cumsum([0, *(len(motif.rows) for motif in motifs)])
    span_base = np.cumsum([0, *(len(arcs.span_row) for arcs in placed)])
    arc_span = _ints([arcs.spans + base for arcs, base in zip(placed, span_base)])
    span_row = _ints([arcs.span_row + base for arcs, base in zip(placed, row_base)])
    rows = np.array([row_base[work.motif] + work.row for work in order], dtype=np.int64)
    spans, arc_order, new_span, new_row = _permuted(rows, span_row, arc_span)
    flat = [(motif, k) for motif in motifs for k in range(len(motif.rows))]
    listed = [flat[k] for k in rows]
    return Laid(
        normal=_rows3([arcs.normal for arcs in placed])[arc_order],
        offset=_floats([arcs.offset for arcs in placed])[arc_order],
        start=_rows3([arcs.start for arcs in placed])[arc_order],
        sweep=_floats([arcs.sweep for arcs in placed])[arc_order],
        arc_span=new_span[arc_span[arc_order]].astype(np.int32),
        span_row=new_row[span_row[spans]].astype(np.int32),
        row_layer=np.array([motif.layer for motif, _ in listed], dtype=np.int32),
        row_motif=np.array([motif.number - 1 for motif, _ in listed], dtype=np.int32),
        row_number=np.array([motif.rows[k].number for motif, k in listed], dtype=np.int32),
        row_thread=np.array([motif.threads[k] for motif, k in listed], dtype=np.int32),
        row_pitch=np.array([motif.rows[k].pitch for motif, k in listed], dtype=float),
    )


def _permuted(rows: Indices, span_row: Indices, arc_span: Indices) -> tuple[Indices, Indices, Indices, Indices]:
    """Old indices of spans and arcs in the new order, and new indices of spans and rows by old."""
    new_row = _inverse(rows)
    spans = np.argsort(new_row[span_row], kind="stable")
    new_span = _inverse(spans)
    arcs = np.argsort(new_span[arc_span], kind="stable")
    return spans, arcs, new_span, new_row


def _inverse(order: Indices) -> Indices:
    inverse = np.empty(len(order), dtype=np.int32)
    inverse[order] = np.arange(len(order), dtype=np.int32)
    return inverse


def _floats(parts: Sequence[Floats]) -> Floats:
    return np.concatenate(parts) if parts else np.zeros(0)


def _ints(parts: Sequence[Indices]) -> Indices:
    return np.concatenate(parts).astype(np.int32) if parts else np.zeros(0, dtype=np.int32)


def _rows3(parts: Sequence[Points]) -> Points:
    return np.concatenate(parts) if parts else np.zeros((0, 3))
