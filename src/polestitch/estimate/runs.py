"""Runs: the rows one thread works one after another, and what each stretch of them costs.

In: laid thread, the motifs' rows and the maker's handling.  Out: ``Run`` records in laying order.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from polestitch.ball.ball import Ball
from polestitch.document.design import Layer
from polestitch.estimate.handling import Handling
from polestitch.laying.laid import Laid
from polestitch.sphere.arcs import arc_angle
from polestitch.stitching.motifs import Motif
from polestitch.stitching.stitches import Row

Floats = NDArray[np.float64]


@dataclass(frozen=True, eq=False)
class Run:
    """Rows (indices into the laid rows) of one thread in one motif, or in one layered layer.

    ``cost[k]`` is the thread of the run's k-th row span by span, each with the bite at its end; ``way[k]``
    what leads there from the row before (0 for the first).  ``wound``: taken from the reel, uncut.
    """

    thread: int
    rows: tuple[int, ...]
    cost: tuple[Floats, ...]
    way: tuple[float, ...]
    wound: bool

    @property
    def need_mm(self) -> float:
        """All of it but the ends of the working lengths."""
        return float(sum(cost.sum() for cost in self.cost)) + sum(self.way)

    @property
    def longest_mm(self) -> float:
        """The longest stretch that cannot be interrupted: a span with its bite."""
        return max(float(cost.max()) for cost in self.cost)


def row_of(laid: Laid, motifs: Sequence[Motif]) -> tuple[Row, ...]:
    """The stitched row behind each laid row."""
    by_place = {(motif.layer, motif.number - 1): motif for motif in motifs}
    keys = zip(laid.row_layer.tolist(), laid.row_motif.tolist(), laid.row_number.tolist())
    return tuple(by_place[layer, motif].rows[number - 1] for layer, motif, number in keys)


def runs(layers: Sequence[Layer], motifs: Sequence[Motif], laid: Laid, ball: Ball, handling: Handling) -> list[Run]:
    """Every row in one run; overlapped motifs each have their own, so a longer row list only adds at their ends."""
    rows = row_of(laid, motifs)
    costs = _costs(laid, rows, ball, handling)
    grouped: dict[tuple[int, int, int], list[int]] = {}
    for k, key in enumerate(zip(laid.row_layer.tolist(), laid.row_motif.tolist(), laid.row_thread.tolist())):
        layered = layers[key[0]].combine == "layered" or layers[key[0]].together is not None
        grouped.setdefault((key[0], -1 if layered else key[1], key[2]), []).append(k)
    begins = laid.start[_first_arcs(laid)]
    made = []
    for (_, _, thread), listed in grouped.items():
        ways = _ways(listed, begins, ball, handling)
        wound = rows[listed[0]].turn is not None
        made.append(Run(thread, tuple(listed), tuple(costs[k] for k in listed), ways, wound))
    return made


def _first_arcs(laid: Laid) -> NDArray[np.int64]:
    return np.asarray(np.searchsorted(laid.arc_row, np.arange(len(laid.row_layer))))


def _ways(listed: Sequence[int], begins: Floats, ball: Ball, handling: Handling) -> tuple[float, ...]:
    """A row ends where it began, so the way leads from one row's start to the next one's."""
    gaps = ball.radius_mm * arc_angle(begins[list(listed[:-1])], begins[list(listed[1:])])
    pairs = zip(listed, listed[1:], gaps.tolist())
    return (0.0, *(handling.way(mm, at_once=after == before + 1) for before, after, mm in pairs))


def _costs(laid: Laid, rows: Sequence[Row], ball: Ball, handling: Handling) -> list[Floats]:
    """Thread of every row, span by span, at the height it lies, each span with the bite at its end."""
    spans = np.bincount(laid.arc_span, weights=laid.length, minlength=len(laid.span_row)) * ball.radius_mm
    spans = spans * (1 + lift(laid))[laid.span_row]
    inside: dict[int, Floats] = {}
    edges = np.searchsorted(laid.span_row, np.arange(len(rows) + 1))
    made = []
    for row, first, last in zip(rows, edges, edges[1:]):
        if id(row) not in inside:
            inside[id(row)] = np.roll(handling.bite(row.half * ball.radius_mm), -1) if row.turn is None else np.zeros(1)
        made.append(spans[first:last] + inside[id(row)][: last - first])
    return made


def lift(laid: Laid) -> Floats:
    """(w,) how much longer a row is for lying on the threads before it, as a share of its length.

    Every earlier thread is taken as spread evenly over the ball and as high as it is wide; the row
    then lies that much further from the middle.
    """
    length = np.bincount(laid.arc_row, weights=laid.length, minlength=len(laid.row_layer))
    volume = np.cumsum(length * laid.row_pitch**2)
    return np.asarray(np.concatenate([[0.0], volume[:-1]]) / (4 * np.pi) if len(volume) else volume)
