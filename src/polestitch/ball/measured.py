"""The ball as wound: several measured circumferences, how round it is, and what to do about it.

In: the document's ball.  Out: the ``Ball`` to plan with, and a ``Roundness``.

Pole-to-pole readings are spread over the half turn in the order given: the first runs along line 1
and its opposite, the second of two at right angles to it, the second of three 60 degrees to the right.
Between two readings a meridian's own length is taken in proportion.
"""

import math
from dataclasses import dataclass
from itertools import pairwise

from polestitch.ball.ball import Ball
from polestitch.document.design import BallSpec
from polestitch.document.lengths import Length
from polestitch.document.limits import around_mm
from polestitch.errors import DesignError

# Common practice, no source: a paper strip reads to about half a millimetre, so less than 1 % cannot be told
# from the strip on most balls; past 3 % makers unwind rather than pad.
ROUND_PERCENT, PADDED_PERCENT = 1.0, 3.0


@dataclass(frozen=True)
class Roundness:
    """Mean and spread of what she measured; nothing measured means a spread of 0 round the planned size."""

    planned_mm: float
    around_mm: float  # mean of all readings, or the planned size
    pole_to_pole_mm: tuple[float, ...]
    obi_mm: tuple[float, ...]

    @property
    def readings_mm(self) -> tuple[float, ...]:
        """Every reading, pole to pole first."""
        return (*self.pole_to_pole_mm, *self.obi_mm)

    @property
    def spread_mm(self) -> float:
        """Longest less shortest reading."""
        return max(self.readings_mm, default=0.0) - min(self.readings_mm, default=0.0)

    @property
    def spread_percent(self) -> float:
        """Spread in percent of the mean."""
        return 100 * self.spread_mm / self.around_mm

    def doubt_mm(self, mm: float) -> float:
        """How far a distance of ``mm``, planned on the mean ball, can be off on this one."""
        return mm * max((abs(reading - self.around_mm) for reading in self.readings_mm), default=0.0) / self.around_mm

    def meridian_mm(self, longitude: float) -> float:
        """Length round the ball through both poles at ``longitude`` (radians from line 1 to the right)."""
        lengths = self.pole_to_pole_mm
        if not lengths:
            return self.around_mm
        place = (longitude % math.pi) / math.pi * len(lengths)
        before = int(place) % len(lengths)
        share = place - int(place)
        return lengths[before] * (1 - share) + lengths[(before + 1) % len(lengths)] * share

    @property
    def around_obi_mm(self) -> float:
        """Length round the obi: its own readings, or the mean of all."""
        return sum(self.obi_mm) / len(self.obi_mm) if self.obi_mm else self.around_mm

    @property
    def advice(self) -> str:
        """What to do now, for the maker."""
        if len(self.readings_mm) < 2:
            return "Measure pole to pole in two directions and round the obi, to see how round the ball is."
        said = f"The readings differ by {self.spread_mm:.1f} mm, {self.spread_percent:.1f} %"
        if self.spread_percent <= ROUND_PERCENT:
            return f"{said}: round enough to mark."
        if self.spread_percent <= PADDED_PERCENT:
            return f"{said}: roll the ball under your palm, wind thin thread {self._shortest_way} and measure again."
        return (
            f"{said}: wind thin thread {self._shortest_way} and measure again; "
            "if it stays so, unwind to the last yarn, or choose a design that hides it."
        )

    @property
    def caution(self) -> str:
        """What the plan cannot promise on this ball; empty where it is round enough."""
        if self.spread_percent <= ROUND_PERCENT:
            return ""
        doubt = self.doubt_mm(self.around_mm / 4)
        return (
            f"A distance from pole to obi can be off by {doubt:.1f} mm on this ball; no plan can promise a closer fit."
        )

    @property
    def _shortest_way(self) -> str:
        """Where the wrap is thinnest, in words: along the shortest reading."""
        place = self.readings_mm.index(min(self.readings_mm))
        if place >= len(self.pole_to_pole_mm):
            return "round the obi"
        if len(self.pole_to_pole_mm) == 1:
            return "over the poles"
        turn = 180 * place / len(self.pole_to_pole_mm)
        return "over the poles along line 1" if place == 0 else f"over the poles {turn:.0f} degrees right of line 1"


def roundness(spec: BallSpec) -> Roundness:
    """What was measured, or the plan where nothing was; ``DesignError`` for an impossible length."""
    planned = around_mm(spec.around, "ball.around")
    over_poles = _readings(spec.measured.pole_to_pole, "ball.measured.pole_to_pole")
    obi = _readings(spec.measured.obi, "ball.measured.obi")
    readings = over_poles + obi
    return Roundness(planned, sum(readings) / len(readings) if readings else planned, over_poles, obi)


def _readings(lengths: tuple[Length, ...], path: str) -> tuple[float, ...]:
    found = tuple(around_mm(length, f"{path}[{n}]") for n, length in enumerate(lengths))
    for n, (one, other) in enumerate(pairwise(found), 1):
        if not 0.5 < one / other < 2:
            fault = f"{other:.0f} mm and {one:.0f} mm cannot both be the way round one ball; measure again"
            raise DesignError(f"{path}[{n}]", fault)
    return found


def ball_of(spec: BallSpec) -> Ball:
    """The ball to plan with: the mean of what was measured, or the planned size."""
    return Ball(roundness(spec).around_mm)
