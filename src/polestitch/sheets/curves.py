"""Circle arcs on the ball as smooth lines on paper, whole or cut where something hides them.

In: arcs as ``Laid`` keeps them (normal, offset, start, sweep) and a lens that maps the ball to paper.
Out: ``Path`` marks in mm.  A piece is at most 15 degrees and meets the true line's place and direction
at both ends, which keeps it within 0.01 mm of it.
"""

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Protocol

import numpy as np
from numpy.typing import NDArray

from polestitch.laying.laid import Laid
from polestitch.marking.marking import Guideline
from polestitch.sheets.sheet import Path, Pen
from polestitch.sphere.arcs import Points, cross

Interval = tuple[float, float]
PIECE = math.radians(15)
LOOK = math.radians(3)  # how closely an arc is watched for entering or leaving the picture


class Lens(Protocol):
    """How the ball lies on paper."""

    def paper(self, points: Points) -> NDArray[np.float64]:
        """(n, 2) mm from the picture's middle, y down."""

    def shows(self, points: Points) -> NDArray[np.bool_]:
        """(n,) whether each point is inside the picture."""


@dataclass(frozen=True, eq=False)
class Curve:
    """One arc of the circle ``normal . x = offset``, from ``start`` through ``sweep`` radians of turn."""

    normal: Points  # (3,)
    offset: float
    start: Points  # (3,)
    sweep: float

    def at(self, t: NDArray[np.float64]) -> Points:
        """(n, 3) points at turns ``t`` (n,)."""
        axis = self.offset * self.normal
        e1 = self.start - axis
        e2 = cross(self.normal, e1)
        return np.asarray(axis + np.cos(t)[:, None] * e1 + np.sin(t)[:, None] * e2)


def curve_of(laid: Laid, arc: int) -> Curve:
    """One laid arc."""
    return Curve(laid.normal[arc], float(laid.offset[arc]), laid.start[arc], float(laid.sweep[arc]))


def guide_curve(line: Guideline) -> Curve:
    """One guideline."""
    return Curve(line.normal, 0.0, line.start, line.sweep)


def ring(middle: Points, radius: float, start: Points) -> Curve:
    """The circle ``radius`` round ``middle``, from the side of ``start``."""
    side = start - (start @ middle) * middle
    first = math.cos(radius) * middle + math.sin(radius) * side / np.linalg.norm(side)
    return Curve(middle, math.cos(radius), first, 2 * math.pi)


def shown(curve: Curve, lens: Lens) -> list[Interval]:
    """The turns between which the curve is inside the picture."""
    t = np.linspace(0.0, curve.sweep, max(2, math.ceil(curve.sweep / LOOK) + 1))
    inside = lens.shows(curve.at(t))
    if inside.all():
        return [(0.0, curve.sweep)]
    changes = np.flatnonzero(inside[1:] != inside[:-1])
    edges = [_edge(curve, lens, float(t[k]), float(t[k + 1])) for k in changes]
    edges = ([0.0] if inside[0] else []) + edges + ([curve.sweep] if inside[-1] else [])
    return list(zip(edges[0::2], edges[1::2]))


def _edge(curve: Curve, lens: Lens, a: float, b: float) -> float:
    """Where the curve enters or leaves between ``a`` and ``b``; each look cuts the search to a 64th."""
    for _ in range(7):
        t = np.linspace(a, b, 65)
        inside = lens.shows(curve.at(t))
        change = int(np.argmax(inside != inside[0]))
        if change == 0:  # the two ends are one but for rounding
            break
        a, b = float(t[change - 1]), float(t[change])
    return (a + b) / 2


def without(intervals: Iterable[Interval], gaps: Sequence[Interval]) -> list[Interval]:
    """``intervals`` less every gap."""
    left = list(intervals)
    for low, high in gaps:
        left = [part for a, b in left for part in ((a, min(b, low)), (max(a, high), b)) if part[1] - part[0] > 1e-9]
    return left


def paths(curve: Curve, lens: Lens, pen: Pen, gaps: Sequence[Interval] = ()) -> list[Path]:
    """What is seen of the curve, as marks."""
    return [_path(curve, lens, pen, *interval) for interval in without(shown(curve, lens), gaps)]


def _path(curve: Curve, lens: Lens, pen: Pen, low: float, high: float) -> Path:
    count = max(1, math.ceil((high - low) / PIECE))
    t = np.linspace(low, high, count + 1)
    h = 1e-5
    points, after, before = np.split(lens.paper(curve.at(np.concatenate([t, t + h, t - h]))), 3)
    slopes = (after - before) / (2 * h)
    third = (high - low) / count / 3
    first, second = points[:-1] + third * slopes[:-1], points[1:] - third * slopes[1:]
    pieces = np.hstack([first, second, points[1:]])
    return Path((float(points[0, 0]), float(points[0, 1])), tuple(map(tuple, pieces.tolist())), pen)
