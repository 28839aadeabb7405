"""How the ball is laid on paper: flat round a point, unrolled along a circle, or as a small globe.

In: a middle and a scale.  Out: lenses, which map unit vectors to mm from the picture's middle, y down.
"""

import math
from dataclasses import dataclass
from fractions import Fraction
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from polestitch.sphere import flat
from polestitch.sphere.arcs import Points

Flat = NDArray[np.float64]
# Scales a maker can reckon with; true size is the one she can lay a ruler on.
SCALES = (Fraction(3), Fraction(2), Fraction(3, 2), Fraction(1), Fraction(3, 4), Fraction(1, 2), Fraction(1, 4))
DOWN = np.array([1.0, -1.0])


def scale_for(size_mm: float, room_mm: float) -> Fraction:
    """The largest handy scale at which ``size_mm`` on the ball takes no more than ``room_mm`` on paper."""
    return next((scale for scale in SCALES if size_mm * scale <= room_mm + 1e-9), Fraction(1, 8))


def scale_words(scale: Fraction) -> str:
    """The scale as a maker says it."""
    names = {
        Fraction(1): "true size",
        Fraction(3): "three times true size",
        Fraction(2): "twice true size",
        Fraction(3, 2): "one and a half times true size",
        Fraction(3, 4): "three quarters of true size",
        Fraction(1, 2): "half size",
        Fraction(1, 4): "a quarter of true size",
    }
    return names.get(scale, f"1 : {1 / scale}")


@dataclass(frozen=True, eq=False)
class FlatLens:
    """Azimuthal equidistant from ``middle``: distances and directions from it are true (times the scale)."""

    middle: Points  # (3,)
    up: Points  # (3,) another point, straight above the middle
    mm: float  # paper mm for a radian on the ball
    reach: float  # radians shown

    @cached_property
    def frame(self) -> Points:
        """(3, 3) right, up and out, as rows."""
        return flat.facing(self.middle, self.up)

    def paper(self, points: Points) -> Flat:
        """(n, 2) mm from the middle."""
        return np.asarray(flat.equidistant(self.frame, points) * self.mm * DOWN)

    def shows(self, points: Points) -> NDArray[np.bool_]:
        """Whether each point is within reach."""
        return np.asarray(points @ self.middle >= math.cos(self.reach) - 1e-12)


@dataclass(frozen=True, eq=False)
class RolledLens:
    """A circle unrolled: along it to the right, its pole ``middle`` up; true along the circle itself."""

    middle: Points  # (3,) the circle's pole
    front: Points  # (3,) on the circle, at the picture's middle
    mm: float
    half_length: float  # radians along the circle, shown each side of the front
    half_height: float  # radians, shown above and below the circle

    def _angles(self, points: Points) -> tuple[Flat, Flat]:
        side = np.cross(self.middle, self.front)
        return np.arctan2(points @ side, points @ self.front), np.arcsin(np.clip(points @ self.middle, -1, 1))

    def paper(self, points: Points) -> Flat:
        """(n, 2) mm from the front."""
        along, above = self._angles(points)
        return np.stack([along, -above], axis=-1) * self.mm

    def shows(self, points: Points) -> NDArray[np.bool_]:
        """Whether each point is in the stretch shown."""
        along, above = self._angles(points)
        return np.asarray((np.abs(along) <= self.half_length) & (np.abs(above) <= self.half_height))


@dataclass(frozen=True, eq=False)
class GlobeLens:
    """The ball from far away."""

    middle: Points
    up: Points
    mm: float  # paper radius of the globe

    @cached_property
    def frame(self) -> Points:
        """(3, 3) right, up and out, as rows."""
        return flat.facing(self.middle, self.up)

    def paper(self, points: Points) -> Flat:
        """(n, 2) mm from the globe's middle."""
        return np.asarray(flat.orthographic(self.frame, points) * self.mm * DOWN)

    def shows(self, points: Points) -> NDArray[np.bool_]:
        """Whether each point is on the near half."""
        return np.asarray(points @ self.middle >= 0.0)
