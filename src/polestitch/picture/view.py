"""Where one looks at the ball from.

In: an address.  Out: ``View``, and the frame that turns the ball's axes into the picture's.
"""

from dataclasses import dataclass
from functools import cached_property

import numpy as np

from polestitch.sphere.arcs import Points, dot, unit

_POLE = np.array([0.0, 0.0, 1.0])
_LINE_1 = np.array([1.0, 0.0, 0.0])


@dataclass(frozen=True, eq=False)
class View:
    """An orthographic view: ``toward`` is the point at the centre of the picture, ``up`` what is upright there."""

    toward: Points  # (3,) unit vector
    up: Points  # (3,) unit vector square to it

    @cached_property
    def frame(self) -> Points:
        """(3, 3) right, up and toward the eye, as rows."""
        return np.array([np.cross(self.up, self.toward), self.up, self.toward])

    def seen(self, points: Points) -> Points:
        """(..., 3) right, up and depth on the unit ball; depth below 0 is out of sight."""
        return np.asarray(points @ self.frame.T)


def view_of(at: Points) -> View:
    """The view with ``at`` in the middle and N upright; facing a pole, line 1 runs straight down from it."""
    toward = unit(np.asarray(at, dtype=float))
    upright = _POLE if abs(toward[2]) < 1 - 1e-9 else -_LINE_1
    return View(toward, unit(upright - dot(upright, toward) * toward))


@dataclass(frozen=True)
class Frame:
    """Where the ball lies in a square picture, in pixels."""

    size: int
    radius: float
    centre: tuple[float, float]  # column and line

    @property
    def box(self) -> tuple[int, int, int, int]:
        """First and past-the-last line, then column, of the pixels the ball may touch, thread standing up included."""
        reach = 1.03 * self.radius + 2
        low = [max(0, int(at - reach)) for at in reversed(self.centre)]
        high = [min(self.size, int(at + reach) + 1) for at in reversed(self.centre)]
        return low[0], high[0], low[1], high[1]
