"""Readings as observations between pins: which pins there are, and whether a reading can be one between them.

In: the marking she wants, her ball, her readings.  Out: ``Field``.
"""

import itertools
import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from polestitch.ball.ball import Ball
from polestitch.ball.measured import Roundness
from polestitch.errors import DesignError
from polestitch.marking.address import Place, point
from polestitch.marking.distances import Girths
from polestitch.marking.marking import Marking
from polestitch.marking.pins import pin_plan
from polestitch.sphere.arcs import Points, arc_angle
from polestitch.survey.leastsquares import Numbers
from polestitch.survey.network import Observed
from polestitch.survey.readings import Reading

FAR, CLOSE = math.radians(170), math.radians(2)


@dataclass(frozen=True)
class Measured:
    """Her ball, and what her tape said of it where she measured."""

    ball: Ball
    roundness: Roundness | None = None


@dataclass(frozen=True, eq=False)
class Field:
    """Pins in the order they go in, N first, and the way round the ball between any two."""

    marking: Marking
    spots: tuple[Place, ...]
    girths: Girths

    @property
    def names(self) -> tuple[str, ...]:
        """What the pins are called."""
        return tuple(spot.name for spot in self.spots)

    @property
    def wanted(self) -> Points:
        """(n, 3) where the division has the pins."""
        return np.array([spot.at for spot in self.spots])

    @property
    def around_mm(self) -> Numbers:
        """(n, n) way round the ball through each two pins."""
        ways = [
            [self.girths.around(one, other) if one is not other else 0.0 for other in self.spots] for one in self.spots
        ]
        return np.array(ways)

    def observed(self, reading: Reading, sigma_mm: float) -> Observed:
        """``reading`` between pins by number; ``DesignError`` names its line where it cannot be one."""
        named = self.names
        ends = (reading.first, *([reading.via] if reading.via else []), reading.second)
        chain = tuple(named.index(self._point(name, reading)) for name in ends)
        legs = [(self.spots[i], self.spots[j]) for i, j in itertools.pairwise(chain)]
        angles = [float(arc_angle(one.at, other.at)) for one, other in legs]
        _refuse_no_strip(reading, angles)
        around = tuple(self.girths.around(one, other) for one, other in legs)
        if reading.mm > sum(around) / 2:
            raise DesignError(
                line_of(reading),
                f"{reading.first} to {reading.second} reads {reading.mm:g} mm, which is more than half way round this "
                f"ball ({sum(around) / 2:.0f} mm); lay the strip the short way and measure again",
            )
        due = sum(way * angle for way, angle in zip(around, angles, strict=True)) / (2 * math.pi)
        if not 0.5 < reading.mm / due < 1.5:
            raise DesignError(
                line_of(reading),
                f"{reading.first} to {reading.second} reads {reading.mm:g} mm but should be about {due:.0f} mm on this "
                "ball; measure it again, or see whether the pins are named right",
            )
        return Observed(chain, reading.mm, reading.sigma_mm or sigma_mm, around)

    def _point(self, name: str, reading: Reading) -> str:
        by_lower = {known.lower(): known for known in self.names}
        return by_lower.get(name.lower()) or point(self.marking, name, line_of(reading)).name


def field(marking: Marking, measured: Measured, readings: Sequence[Reading]) -> Field:
    """Every pin of the plan, then whatever else she measured; ``DesignError`` names the line of an unknown pin."""
    named = [pin.point for pin in pin_plan(marking, measured.ball, measured.roundness)]
    for reading in readings:
        named += field_names(marking, reading)
    return Field(
        marking,
        tuple(point(marking, name) for name in dict.fromkeys(["N", *named])),
        Girths(measured.ball, measured.roundness),
    )


def parted(
    marking: Marking, measured: Measured, readings: Sequence[Reading], sigma_mm: float
) -> tuple[tuple[Reading, ...], tuple[tuple[Reading, DesignError], ...]]:
    """Readings that can be, and those that cannot, each with what is wrong with it."""
    wrong, named = [], []
    for one in readings:
        try:
            field_names(marking, one)
            named.append(one)
        except DesignError as error:
            wrong.append((one, error))
    pins, good = field(marking, measured, named), []
    for one in named:
        try:
            pins.observed(one, sigma_mm)
            good.append(one)
        except DesignError as error:
            wrong.append((one, error))
    return tuple(good), tuple(wrong)


def field_names(marking: Marking, reading: Reading) -> list[str]:
    """What the pins of a reading are called in the marking; ``DesignError`` names the line of an unknown one."""
    ends = (reading.first, reading.second, *([reading.via] if reading.via else []))
    return [point(marking, name, line_of(reading)).name for name in ends]


def line_of(reading: Reading) -> str:
    """Where a reading stands, for her to find it."""
    return f"line {reading.line}" if reading.line else f"{reading.first} to {reading.second}"


def _refuse_no_strip(reading: Reading, angles: Sequence[float]) -> None:
    if min(angles) < CLOSE:
        raise DesignError(line_of(reading), f"{reading.first} and {reading.second} are one pin; name two")
    if max(angles) > FAR:
        raise DesignError(
            line_of(reading),
            f"{reading.first} and {reading.second} lie opposite each other, and the strip can run round on any side; "
            "say over which pin it ran, under via",
        )
