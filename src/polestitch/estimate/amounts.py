"""How much thread of each colour, in which pieces, and how long the work takes.

In: the design, its ball, its motifs and the thread laid on it.  Out: ``Estimate``.

Thread of one colour = spans at the height they lie + bites + ways between rows + starts and ends +
what is thrown away at joins.  ``laid_mm`` is the spans on the surface alone.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from math import ceil

import numpy as np
from numpy.typing import NDArray

from polestitch.ball.ball import Ball
from polestitch.document.design import Design, Thread
from polestitch.document.lengths import MM
from polestitch.estimate.handling import Handling, handling
from polestitch.estimate.hours import Hours, hours
from polestitch.estimate.pieces import SAME, Piece, cut, lengths
from polestitch.estimate.runs import Floats, Run, lift, row_of, runs
from polestitch.estimate.worked import Besides, MarkingThread, work_ahead
from polestitch.laying.laid import Laid
from polestitch.stitching.motifs import Motif

# Size-5 pearl cotton comes in skeins of 25 yards (japanesetemari.com/Kyo/Kyo-1.1.html).
SKEINS_MM = {"pearl 5": 25 * MM["yd"]}


@dataclass(frozen=True)
class Amount:
    """One thread of the design.

    ``total_mm`` is what the drawn ball takes, with ends and waste; how likely it is enough is told as a range
    elsewhere (``doubt``).  ``skeins`` is None where nobody said how long one is.
    """

    name: str
    laid_mm: float
    total_mm: float
    lengths: int
    skeins: int | None
    bites: int
    pieces: tuple[Piece, ...]


@dataclass(frozen=True)
class Estimate:
    """Thread and time; ``lift`` is how much longer spans are for lying on other threads, as a share of all."""

    threads: tuple[Amount, ...]
    hours: Hours
    lift: float
    marking_mm: float = 0.0

    @property
    def needed_mm(self) -> dict[str, float]:
        """Total by thread name."""
        return {amount.name: amount.total_mm for amount in self.threads}


def estimate(design: Design, ball: Ball, motifs: Sequence[Motif], laid: Laid, besides: Besides) -> Estimate:
    """Thread of every colour, and hours; ``DesignError`` for a maker's length that has no millimetres."""
    hand = handling(design.maker)
    listed = runs(design.layers, motifs, laid, ball, hand)
    surface, bites = laid_mm(laid, ball, len(design.threads)), bites_of(laid, motifs, len(design.threads))
    amounts, marking = [], besides.marking
    for k, thread in enumerate(design.threads):
        mine = [run for run in listed if run.thread == k]
        amount = _amount(thread, mine, hand, float(surface[k]), int(bites[k]))
        amounts.append(_with_marking(amount, thread, marking) if thread.name == design.marking.thread else amount)
    starts = _starts(amounts, listed, hand) + marking.pieces
    return Estimate(tuple(amounts), hours(work_ahead(besides, starts)), _mean_lift(laid), marking.mm)


def laid_mm(laid: Laid, ball: Ball, threads: int) -> Floats:
    """(threads,) thread of each colour on the surface: the sum of its arcs, nothing else."""
    mm = np.bincount(laid.row_thread[laid.arc_row], weights=laid.length, minlength=threads) * ball.radius_mm
    return np.asarray(mm)


def bites_of(laid: Laid, motifs: Sequence[Motif], threads: int) -> NDArray[np.int64]:
    """(threads,) bites of each colour."""
    each = np.array([len(row.half) for row in row_of(laid, motifs)], dtype=float)
    return np.bincount(laid.row_thread, weights=each, minlength=threads).astype(np.int64)


def _amount(thread: Thread, mine: Sequence[Run], hand: Handling, surface: float, bites: int) -> Amount:
    cuts = [cut(run, hand) for run in mine]
    count = lengths(cuts, [run.wound for run in mine], hand.working_length)
    pieces = tuple(piece for made in cuts for piece in made.pieces)
    total = sum(made.mm for made in cuts)
    return Amount(thread.name, surface, total, count, skeins(thread, total), bites, pieces)


def _with_marking(amount: Amount, thread: Thread, marking: MarkingThread) -> Amount:
    total = amount.total_mm + marking.mm
    return replace(amount, total_mm=total, lengths=amount.lengths + marking.pieces, skeins=skeins(thread, total))


def skeins(thread: Thread, mm: float) -> int | None:
    """Skeins to buy for ``mm`` of a thread, or None where its skein's length is not known."""
    each = skein_mm(thread)
    return None if each is None else ceil(mm / each - SAME)


def skein_mm(thread: Thread) -> float | None:
    """Length of a skein, as the design says or as such thread is sold; None where nobody said."""
    return thread.skein.mm if thread.skein is not None else SKEINS_MM.get(thread.size.lower().strip())


def _starts(amounts: Sequence[Amount], listed: Sequence[Run], hand: Handling) -> int:
    """Pieces begun, and threads ended and begun anew on the way from row to row."""
    anew = sum(way >= 2 * hand.ends for run in listed for way in run.way[1:])
    return anew + sum(len(amount.pieces) for amount in amounts)


def _mean_lift(laid: Laid) -> float:
    if not len(laid.row_layer):
        return 0.0
    length = np.bincount(laid.arc_row, weights=laid.length, minlength=len(laid.row_layer))
    return float((length * lift(laid)).sum() / length.sum())
