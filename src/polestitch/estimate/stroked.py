"""Thread by rows alone, before it is laid: what a change of hand does to an amount.

In: motifs of rows.  Out: mm by thread.  Spans run straight from bite to bite on the ball; how thread leans, climbs over
others or is lost at joins is left out, so only the quotient of two such sums means anything.
"""

from collections.abc import Sequence

import numpy as np

from polestitch.ball.ball import Ball
from polestitch.estimate.handling import Handling
from polestitch.estimate.runs import Floats
from polestitch.sphere.arcs import arc_angle
from polestitch.stitching.motifs import Motif
from polestitch.stitching.stitches import Row


def stroked_mm(ball: Ball, motifs: Sequence[Motif], hand: Handling, threads: int) -> Floats:
    """(threads,) spans and bites of each thread."""
    total = np.zeros(threads)
    once: dict[int, Floats] = {}
    for motif in motifs:
        if id(motif.rows) not in once:
            once[id(motif.rows)] = np.array([_row_mm(row, ball, hand) for row in motif.rows])
        np.add.at(total, np.array(motif.threads, dtype=int), once[id(motif.rows)])
    return total


def bitten_mm(ball: Ball, motifs: Sequence[Motif], hand: Handling, threads: int) -> Floats:
    """(threads,) what of it is inside the bites."""
    total = np.zeros(threads)
    for motif in motifs:
        inside = [_bites_mm(row, ball, hand) for row in motif.rows]
        np.add.at(total, np.array(motif.threads, dtype=int), np.array(inside))
    return total


def _row_mm(row: Row, ball: Ball, hand: Handling) -> float:
    if row.turn is not None:
        return ball.mm(2 * np.pi * float(np.sqrt(1 - row.turn.offset**2)))
    enters = np.roll(row.enters, -1, axis=0)
    spans = np.asarray(arc_angle(row.leaves, enters))
    for k, via in enumerate(row.via):
        through = np.concatenate([row.leaves[k][None], via, enters[k][None]])
        spans[k] = arc_angle(through[:-1], through[1:]).sum()
    return ball.mm(float(spans.sum() if row.closed else spans[:-1].sum())) + _bites_mm(row, ball, hand)


def _bites_mm(row: Row, ball: Ball, hand: Handling) -> float:
    return 0.0 if row.turn is not None else float(hand.bite(row.half * ball.radius_mm).sum())
