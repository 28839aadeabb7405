"""Every leg of thread as it lies, and every bite, as plain data for whoever checks us: what ``thread --json`` prints.

In: a build with its motifs.  Out: a dict of numbers, words and lists.  Points lie on the unit sphere, N up;
the straight way from each to the next is nowhere farther than 0.01 mm from the thread.
Keys are never renamed; ``docs/json.md`` says what each means.
"""

from collections import Counter
from collections.abc import Iterator, Sequence
from typing import Any

import numpy as np
from numpy.typing import NDArray

from polestitch.document.threads import pitch_mm
from polestitch.laying.built import Stitched
from polestitch.laying.laid import Laid
from polestitch.sphere.arcs import Points, arc_angle, unit
from polestitch.stitching.motifs import Motif
from polestitch.stitching.stitches import Row

# Of the 0.01 mm promised, what a chord may stray; the rest is for rounding, 0.0005 mm on the largest ball.
SAGITTA_MM = 0.009
FIGURES = 6  # after the point, of a coordinate
WIDEST = 2.0  # radians between two points of an arc, so that the smallest turn still goes round something

Names = dict[tuple[int, int], str]
At = tuple[int, int, int]  # index of the layer, index of the motif in it, number of the row


def thread_json(made: Stitched) -> dict[str, Any]:
    """All legs in stitching order, and all bites, row after row in the same order."""
    names = motif_names(made.motifs)
    return {
        "ball": {"radius_mm": _mm(made.ball.radius_mm)},
        "legs": list(_legs(made, names)),
        "bites": list(_bites(made, names)),
    }


def motif_names(motifs: Sequence[Motif]) -> Names:
    """What each motif is called, by layer and index in it: its place, with its number where two have one place."""
    shared = Counter((motif.layer, motif.place) for motif in motifs)
    return {
        (motif.layer, motif.number - 1): motif.place
        if shared[motif.layer, motif.place] == 1
        else f"{motif.place} ({motif.number})"
        for motif in motifs
    }


def lines(laid: Laid, radius_mm: float) -> list[Points]:
    """(n, 3) points of every span on a ball of ``radius_mm``: its ends, its corners, and as many between as it takes.

    The sagitta of a chord over the angle t of a circle of radius r is r (1 - cos(t / 2)).
    """
    if not len(laid.sweep):
        return []
    flattest = 1 - SAGITTA_MM / (laid.radius * radius_mm)
    apart = np.minimum(2 * np.arccos(np.maximum(flattest, -1.0)), WIDEST)
    steps = np.ceil(laid.sweep / apart).astype(np.intp)
    ends = np.append(laid.arc_span[1:] != laid.arc_span[:-1], True)
    # An arc's last point is the first of the next one, but where its span ends.
    count = steps + ends
    arc = np.repeat(np.arange(len(steps), dtype=np.int32), count)
    step = np.arange(len(arc)) - np.repeat(np.cumsum(count) - count, count)
    # A whole turn ends where it began, to the last figure.
    points = laid.at(arc, (laid.sweep[arc] * step / steps[arc]) % (2 * np.pi))
    return np.split(points, np.cumsum(count)[ends][:-1])


def _legs(made: Stitched, names: Names) -> Iterator[dict[str, Any]]:
    laid, radius = made.laid, made.ball.radius_mm
    widths = [pitch_mm(thread).mm for thread in made.design.threads]
    whose, strands = _whose(made, names), _strands(made.motifs)
    first = np.searchsorted(laid.span_row, np.arange(len(laid.row_layer)))
    for span, (row, points) in enumerate(zip(laid.span_row.tolist(), lines(laid, radius))):
        thread = int(laid.row_thread[row])
        yield {
            **whose[row],
            "strand": strands[_at(laid, row)],
            "leg": span - int(first[row]) + 1,
            "thread": made.design.threads[thread].name,
            "width_mm": _mm(widths[thread]),
            "pitch_mm": _mm(laid.row_pitch[row] * radius),
            "points": _said(points),
        }


def _strands(motifs: Sequence[Motif]) -> dict[At, int]:
    """Of every row the strand, counted from 1 in its motif: rows that lie beside each other."""
    found: dict[At, int] = {}
    for motif in motifs:
        known: dict[object, int] = {}
        for row in motif.rows:
            found[motif.layer, motif.number - 1, row.number] = known.setdefault(_beside(row), len(known) + 1)
    return found


def _beside(row: Row) -> object:
    """The same for rows beside each other: with bites on the same lines, or wound about the same axis."""
    if row.turn is None:
        return row.strand, row.spokes
    axis = np.round(row.turn.normal, FIGURES) + 0.0
    return row.strand, tuple(max(axis.tolist(), (0.0 - axis).tolist()))


def _bites(made: Stitched, names: Names) -> Iterator[dict[str, Any]]:
    rows = {(motif.layer, motif.number - 1, row.number): (motif, row) for motif in made.motifs for row in motif.rows}
    for index, whose in enumerate(_whose(made, names)):
        motif, row = rows[_at(made.laid, index)]
        # Where the needle goes in and comes out; for separate strokes the bite is the way under the wrap.
        half = arc_angle(row.enters, row.leaves) / 2
        middles = unit(row.enters + row.leaves) @ motif.frame.T
        for middle, angle in zip(_said(middles), half.tolist()):
            yield {**whose, "at": middle, "half_mm": _mm(made.ball.mm(angle))}


def _at(laid: Laid, row: int) -> At:
    return int(laid.row_layer[row]), int(laid.row_motif[row]), int(laid.row_number[row])


def _whose(made: Stitched, names: Names) -> list[dict[str, Any]]:
    """Layer, motif and row of every laid row."""
    every = (_at(made.laid, row) for row in range(len(made.laid.row_layer)))
    layers = [layer.name for layer in made.design.layers]
    return [{"layer": layers[layer], "motif": names[layer, motif], "row": row} for layer, motif, row in every]


def _said(points: NDArray[np.float64]) -> list[list[float]]:
    """Coordinates rounded, and no zero with a minus before it."""
    said: list[list[float]] = (np.round(points, FIGURES) + 0.0).tolist()
    return said


def _mm(mm: float) -> float:
    """Millimetres to a thousandth."""
    return round(float(mm), 3)
