"""A small globe that shows where on the ball a chart is.

In: the marking, a place and how far the chart reaches.  Out: marks round the globe's middle.
"""

import math
from collections.abc import Sequence

import numpy as np

from polestitch.marking.marking import Marking
from polestitch.sheets.curves import Curve, guide_curve, paths
from polestitch.sheets.lenses import GlobeLens
from polestitch.sheets.sheet import BRASS, INDIGO, INK, WHITE, Circle, Mark, Pen, Text
from polestitch.sphere.arcs import Points

POLE = np.array([0.0, 0.0, 1.0])
STEEPEST = math.radians(42)
ASIDE = math.radians(24)


def globe(
    marking: Marking, middle: Points, rim: Sequence[Curve], thread: Sequence[Curve], radius: float = 13.0
) -> tuple[Mark, ...]:
    """Guidelines, and ``rim`` and ``thread`` in indigo, seen from where ``middle`` stands out best; N is up."""
    lens = GlobeLens(_view(middle), POLE, radius)
    marks: list[Mark] = [Circle(0.0, 0.0, radius, Pen(INK, 0.25), WHITE)]
    for line in marking.guidelines:
        if not line.support:
            marks += paths(guide_curve(line), lens, Pen(BRASS, 0.1))
    for curves, width in ((rim, 0.25), (thread, 0.45)):
        for curve in curves:
            marks += paths(curve, lens, Pen(INDIGO, width))
    return (*marks, *_pole(lens, radius))


def _pole(lens: GlobeLens, radius: float) -> tuple[Mark, ...]:
    north = bool(lens.shows(POLE[None])[0])
    x, y = lens.paper(POLE[None] if north else -POLE[None])[0].tolist()
    beyond = -radius - 1.2 if north else radius + 3.4
    return Circle(x, y, 0.55, None, INK), Text(0.0, beyond, "N" if north else "S", "sans bold", 7.5, "middle")


def _view(middle: Points) -> Points:
    """A little aside of the place, and nearer to the obi than it."""
    latitude = math.asin(max(-1.0, min(1.0, float(middle[2]))))
    longitude = math.atan2(float(middle[1]), float(middle[0])) if abs(latitude) < 1.55 else math.radians(65)
    height, turn = max(-STEEPEST, min(STEEPEST, 0.6 * latitude + 0.12)), longitude + ASIDE
    return np.array([math.cos(height) * math.cos(turn), math.cos(height) * math.sin(turn), math.sin(height)])
