"""Rows of bites, before the thread settles.

In: nothing.  Out: frozen records.  All vectors are unit vectors in the frame of the site (its centre
is +z, or its arc or circle runs along the equator from +x); angles and widths are radians on the ball.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from polestitch.sphere.arcs import Points


@dataclass(frozen=True, eq=False)
class Turn:
    """One turn of a wrapped band: the circle ``normal . x = offset``, once round from ``start``."""

    normal: Points  # (3,)
    offset: float
    start: Points  # (3,)


@dataclass(frozen=True, eq=False)
class Beneath:
    """Where a woven row goes under rows of its own motif that were laid before it.

    ``rows`` are their numbers.  ``points`` (m, 3), one for each, tells which of several crossings is
    meant: the one ``within`` so many radians; without points the row goes under them wherever it meets
    them.
    """

    rows: tuple[int, ...]
    points: Points | None = None
    within: float = 1e-4  # a few micrometres


@dataclass(frozen=True, eq=False)
class Row:
    """One complete trip round a motif until the start is reached again.

    ``b`` bites in visiting order; the thread comes out at the leave point of bite 0, and bite 0 is
    the last one taken.  A bite is entered at ``places`` moved ``half`` along ``travel`` and left the
    same distance the other way, so arriving and leaving legs cross.  ``narrow`` corners are tips so
    sharp that the next row leans round them: ``outward`` is the way the tip steps, ``step`` how far
    the bite lies beyond the one before it in the same corner (a first row: how far a next one would).
    A row with a ``turn`` is a wound turn and has no bites.  ``plan`` is its entry in the layer's row
    list; rows of one ``strand`` lie beside each other (a double zigzag has two strands).
    ``via`` is empty, or holds for the span after each bite the (m, 3) places it is led through with no
    bite, as between keeper pins.  ``up`` is for work in separate strokes: where the needle comes up
    when that is not beside where it went in; it then goes in at ``places`` itself and runs twice
    ``half`` under the wrap.  A row that is not ``closed`` ends at its last bite instead of going
    home.  ``under`` is empty, or holds for the span after each bite how it takes the threads it meets
    that were laid before it: "u" under and "o" over, in turn and from the beginning again; "" by the
    rules of its layer.  ``beneath`` is the weave plan of one crossing after another.
    """

    number: int  # counted from 1 in its motif
    pitch: float
    places: Points  # (b, 3)
    travel: Points  # (b, 3)
    half: NDArray[np.float64]  # (b,)
    outward: Points  # (b, 3)
    step: NDArray[np.float64]  # (b,)
    narrow: NDArray[np.bool_]  # (b,)
    wide: NDArray[np.bool_]  # (b,) bites that gather all earlier legs
    spokes: tuple[int, ...]  # (b,) which guideline each bite is on
    laps: int = 1
    turn: Turn | None = None
    plan: int = 0
    strand: int = 0
    via: tuple[Points, ...] = ()
    up: Points | None = None  # (b, 3)
    closed: bool = True
    under: tuple[str, ...] = ()
    beneath: Beneath | None = None

    @property
    def enters(self) -> Points:
        """(b, 3) where the needle goes in."""
        return self.places if self.up is not None else _sideways(self.places, self.travel, self.half)

    @property
    def leaves(self) -> Points:
        """(b, 3) where it comes out."""
        return self.up if self.up is not None else _sideways(self.places, self.travel, -self.half)


def _sideways(places: Points, travel: Points, angle: NDArray[np.float64]) -> Points:
    return np.cos(angle)[:, None] * places + np.sin(angle)[:, None] * travel
