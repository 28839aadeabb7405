"""The ball's size: the only door between millimetres and radians.

In: a circumference in mm.  Out: ``Ball``, which converts both ways.
"""

import math
from dataclasses import dataclass


@dataclass(frozen=True)
class Ball:
    """A round ball ``around_mm`` in circumference (patterns speak circumference; craft, section 1.3)."""

    around_mm: float

    @property
    def radius_mm(self) -> float:
        """Radius in mm."""
        return self.around_mm / (2 * math.pi)

    @property
    def quarter_mm(self) -> float:
        """Pole to obi in mm."""
        return self.around_mm / 4

    def angle(self, mm: float) -> float:
        """Radians of an arc of ``mm`` on the surface."""
        return mm / self.radius_mm

    def mm(self, angle: float) -> float:
        """Millimetres on the surface of an arc of ``angle`` radians."""
        return angle * self.radius_mm
