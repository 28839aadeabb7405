"""How much of each kind of work there is in every row, and in what comes before the first.

In: the laid thread, its rows and the needle's passes.  Out: amounts by kind, in the units of ``estimate.hours.PER``.

The ball is turned in the hand as the work goes round it: once round for a wound turn, a quarter of the way to the next
bite, not at all within a stroke.  So a bite takes longer on a large ball, in proportion to the way round it: our guess.
A needle that slips under more threads at once takes longer too: eight of them count as another pass, our guess.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from polestitch.ball.ball import Ball
from polestitch.estimate.runs import Floats, row_of
from polestitch.laying.laid import Laid
from polestitch.laying.weave import Passes
from polestitch.stitching.motifs import Motif
from polestitch.stitching.stitches import Row

TURNED_A_BITE = 1 / 4
THREADS_A_PASS = 8


@dataclass(frozen=True)
class Base:
    """Metres of yarn and of thread that are wound over the core."""

    yarn_m: float
    thread_m: float


@dataclass(frozen=True)
class MarkingThread:
    """The marking as a piece of work: ``mm`` of thread with its ends, in ``pieces``; pins set, crossings tacked."""

    mm: float
    pieces: int
    pins: int
    tacks: int


@dataclass(frozen=True, eq=False)
class Besides:
    """What the threads alone do not tell of the work: base, marking, and the ``rows`` of ``rows_worked``."""

    base: Base
    marking: MarkingThread
    rows: Mapping[str, Floats]


def rows_worked(ball: Ball, motifs: Sequence[Motif], laid: Laid, passed: Passes) -> dict[str, Floats]:
    """By kind of work its amount in each of ``w`` laid rows: bites, metres turned, metres laid, passes under."""
    rows, count = row_of(laid, motifs), len(laid.row_layer)
    mm = np.bincount(laid.arc_row, weights=laid.length, minlength=count) * ball.radius_mm
    return {
        "bites": np.array([len(row.half) for row in rows], dtype=float),
        "turning": np.array([_rounds(row) for row in rows], dtype=float) * ball.around_mm / 1000,
        "laying": mm / 1000,
        "under": passed.passes + passed.crossings / THREADS_A_PASS,
    }


def _rounds(row: Row) -> float:
    """How often the ball is turned round for a row."""
    if row.turn is not None:
        return 1.0
    return 0.0 if row.up is not None else len(row.half) * TURNED_A_BITE


def work_ahead(besides: Besides, starts: int) -> dict[str, tuple[float, str]]:
    """Every kind of work of a ball: its amount and what that is counted in."""
    base, marking, rows = besides.base, besides.marking, besides.rows
    return {
        "core": (1, "ball"),
        "yarn": (base.yarn_m, "metres"),
        "wrap": (base.thread_m, "metres"),
        "pins": (marking.pins, "pins"),
        "marking": (marking.mm / 1000, "metres"),
        "tacks": (marking.tacks, "crossings"),
        "bites": (float(rows["bites"].sum()), "bites"),
        "turning": (float(rows["turning"].sum()), "metres turned"),
        "laying": (float(rows["laying"].sum()), "metres"),
        "under": (float(rows["under"].sum()), "passes"),
        "starts": (starts, "starts"),
    }
