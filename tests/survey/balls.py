"""Balls whose pins went in a little off, and what a strip would read on them."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from polestitch.ball.ball import Ball
from polestitch.marking.divisions import marked
from polestitch.marking.marking import Marking
from polestitch.sphere.arcs import Points, arc_angle, unit
from polestitch.survey import Measured, Reading
from polestitch.survey.field import field

AROUND_MM = 250.0


@dataclass(frozen=True, eq=False)
class Set:
    """A division, the pins in it by name, and where they really stand."""

    marking: Marking
    measured: Measured
    names: tuple[str, ...]
    wanted: Points
    at: Points

    @property
    def radius_mm(self) -> float:
        return self.measured.ball.radius_mm

    def pairs(self, longest: float = 1.7) -> list[tuple[int, int]]:
        """Every two pins that lie within ``longest`` radians by plan."""
        apart = arc_angle(self.wanted[:, None], self.wanted[None])
        return [(int(i), int(j)) for i, j in np.argwhere(np.triu((apart > 0.1) & (apart < longest), 1))]

    def read(self, i: int, j: int, error_mm: float = 0.0) -> Reading:
        mm = float(arc_angle(self.at[i], self.at[j])) * self.radius_mm + error_mm
        return Reading(self.names[i], self.names[j], mm)

    def readings(self, sigma_mm: float, luck: np.random.Generator, times: int = 1) -> list[Reading]:
        """Every pair read ``times`` times, each with an error of its own."""
        return [self.read(i, j, luck.normal(0, sigma_mm)) for i, j in self.pairs() for _ in range(times)]


def pinned(division: str, off_mm: float, luck: np.random.Generator, around_mm: float = AROUND_MM) -> Set:
    """Pins of ``division``, each about ``off_mm`` off in either direction; N stands."""
    marking, measured = marked(division), Measured(Ball(around_mm))
    pins = field(marking, measured, ())
    shift: NDArray[np.float64] = luck.normal(0, off_mm / measured.ball.radius_mm, pins.wanted.shape)
    shift[0] = 0
    return Set(marking, measured, pins.names, pins.wanted, unit(pins.wanted + shift))
