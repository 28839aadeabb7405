"""Distances from pin to pin, as a maker sets them.

In: places, the ball, what was measured on it.  Out: ``Distance`` and ``Pin`` records.
"""

import math
from dataclasses import dataclass

from polestitch.ball.ball import Ball
from polestitch.ball.measured import Roundness
from polestitch.marking.address import Place
from polestitch.marking.folds import recipe, to_half_mm
from polestitch.sphere.lines import NEAR

TURN = 2 * math.pi


@dataclass(frozen=True)
class Distance:
    """How far one pin stands from another that is already in."""

    point: str
    mm: float  # exact, on the measured ball
    fraction: float  # of the way round the ball in that direction
    recipe: str  # how to find it on the strip
    rule_mm: float | None = None  # the same distance when the pins are set by the trade's rule of thumb

    @property
    def half_mm(self) -> float:
        """The distance to say first: to the nearest half millimetre."""
        return to_half_mm(self.mm)

    @property
    def rule_off_mm(self) -> float | None:
        """Rule less exact; ``None`` without a rule."""
        return None if self.rule_mm is None else self.rule_mm - self.mm


@dataclass(frozen=True)
class Pin:
    """One pin: where it goes, measured from which pins, and which distances then come out equal."""

    point: str
    on: str  # the line it stands on, or ""
    measured: tuple[Distance, ...]
    check: tuple[Distance, ...]
    helper: bool = False  # comes out again when the lines are laid


@dataclass(frozen=True)
class Girths:
    """Distances between places, each along its own way round the ball."""

    ball: Ball
    measured: Roundness | None

    def between(self, place: Place, other: Place, rule: float | None = None) -> Distance:
        """Exact distance, and the one the trade's rule gives where ``rule`` is a share of the way round."""
        share = _angle(place, other) / TURN
        around = self.around(place, other)
        rule_mm = None if rule is None else rule * around
        return Distance(other.name, share * around, share, recipe(share, around), rule_mm)

    def half_ways(self) -> tuple[Distance, ...]:
        """N to S along each way she measured, to be tried in every direction."""
        readings = self.measured.pole_to_pole_mm if self.measured else ()
        return tuple(Distance("N", reading / 2, 0.5, recipe(0.5, reading)) for reading in readings[1:] and readings)

    def around(self, place: Place, other: Place) -> float:
        """Way round the ball in mm: along the common meridian, along the obi, or the mean for any other way."""
        if self.measured is None:
            return self.ball.around_mm
        on_axis = [math.hypot(each.at[0], each.at[1]) < NEAR for each in (place, other)]
        if all(on_axis):
            readings = self.measured.pole_to_pole_mm
            return sum(readings) / len(readings) if readings else self.ball.around_mm
        if abs(place.at[2]) < NEAR and abs(other.at[2]) < NEAR:
            return self.measured.around_obi_mm
        free = other if on_axis[0] else place
        if any(on_axis) or abs(place.at[0] * other.at[1] - place.at[1] * other.at[0]) < NEAR:
            return self.measured.meridian_mm(math.atan2(free.at[1], free.at[0]))
        return self.ball.around_mm


def _angle(place: Place, other: Place) -> float:
    """As ``arc_angle`` gives it; one pair at a time is a tenth of the work outside numpy."""
    (a, b, c), (x, y, z) = place.at.tolist(), other.at.tolist()
    return math.atan2(math.hypot(b * z - c * y, c * x - a * z, a * y - b * x), a * x + b * y + c * z)
