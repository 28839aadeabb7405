"""What is known of a maker's hand before and after she measured: each figure and how far it may be out.

In: the document's maker and threads.  Out: ``Hand``, and the pitch of each thread.

Before any measuring a hand is as published work implies.  Pitch as laid over the gauge's, which packs thread hard: the
gauge itself 1.00, spindles' flanks 1.06, petals 1.10, a star 1.25, pentagons 1.32 and 1.37.  Steps at narrow points in
size 5: 2.67, 2.54, 2.35, 2.13 and 2 mm.  So few points foretell the next hand by Student's law; the scatters here are
those of a normal law of the logarithm with the same four fifths (``python -m tests.reference.published``, decision
0175).  The rest is common practice, no source.
"""

import math
from dataclasses import dataclass

from polestitch.document.design import Maker, Measures, Reading, Thread
from polestitch.document.lengths import Length
from polestitch.document.ranges import Range, Z
from polestitch.document.threads import own_pitch, pitch_mm

PITCH_OVER_GAUGE, PITCH_SCATTER = 1.18, 0.16
STEP_MM, STEP_SCATTER = 2.3, 0.155
BITE_SCATTER, DIP_SCATTER = 0.25, 0.3  # common practice, no source
ENDS_SCATTER = 0.27  # an inch or two is run under the wrap: published, 4 of 5 taken to lie between
COUNTED_SCATTER = 0.05  # of threads counted side by side in a centimetre: one in twenty, our choice
# How far one and the same hand differs from one piece of work to the next: our choice.
PIECE_SCATTER = 0.04
AS_PUBLISHED = Length("2 mm")  # the stretch nobody changed says nothing of a hand


@dataclass(frozen=True)
class Known:
    """A length or factor known to within a factor: its logarithm is normal about ``middle``'s, ``scatter`` wide."""

    middle: float
    scatter: float

    def at(self, deviations: float) -> float:
        """The value so many standard deviations up."""
        return self.middle * math.exp(self.scatter * deviations)

    @property
    def range(self) -> Range:
        """Where it lies in four cases of five."""
        return Range(self.at(-Z), self.middle, self.at(Z))


@dataclass(frozen=True)
class Hand:
    """``pitch`` is a factor on the gauge's, ``step``, ``bite``, ``dip`` and ``ends`` are millimetres."""

    pitch: Known
    step: Known
    bite: Known
    dip: Known
    ends: Known


PUBLISHED = Hand(
    Known(PITCH_OVER_GAUGE, PITCH_SCATTER),
    Known(STEP_MM, STEP_SCATTER),
    Known(1.5, BITE_SCATTER),
    Known(1.0, DIP_SCATTER),
    Known(40.0, ENDS_SCATTER),
)


def hand_of(maker: Maker) -> Hand:
    """What the document says of her hand: measured, else what she set, else as published work goes."""
    mine = maker.measures or Measures()
    step = PUBLISHED.step if maker.stretch == AS_PUBLISHED else _set(maker.stretch, STEP_SCATTER)
    return Hand(
        PUBLISHED.pitch,
        step if mine.step is None else known_of(mine.step),
        _set(maker.bite, BITE_SCATTER) if mine.bite is None else known_of(mine.bite),
        _set(maker.dip, DIP_SCATTER) if mine.dip is None else known_of(mine.dip),
        _set(maker.ends, ENDS_SCATTER),
    )


def pitch_of(thread: Thread, maker: Maker) -> Known:
    """Pitch of one thread as she lays it, mm."""
    mine = own_pitch(thread, maker.measures)
    drawn = pitch_mm(thread, measures=maker.measures).mm
    if thread.rows_per_cm is not None:
        return Known(drawn, COUNTED_SCATTER)
    if mine is not None:
        return known_of(mine)
    return Known(drawn * PITCH_OVER_GAUGE, PITCH_SCATTER)


def known_of(reading: Reading) -> Known:
    """A measured length with its spread, as a law of its logarithm."""
    length, spread = reading.length.mm or 0.0, reading.spread.mm or 0.0
    return Known(length, math.sqrt(math.log1p((spread / length) ** 2))) if length else Known(0.0, 0.0)


def _set(length: Length, scatter: float) -> Known:
    return Known(length.mm or 0.0, scatter)
