"""Arcs on the ball as Bezier curves in an orthographic view, clipped at the horizon in closed form.

In: ``Laid`` and a ``View``.  Out: ``Curves`` in the view's own units: x right, y up, the outline the unit circle.
Seen from afar a circle on the ball is an affine picture of a circle, so one cubic serves each 45 degrees
with the error of the usual circle approximation, 4e-6 of the radius (Goldapp 1991, from memory).
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from polestitch.laying.laid import Floats, Laid
from polestitch.picture.view import View

Indices = NDArray[np.int64]
_TINY = 1e-12


@dataclass(frozen=True, eq=False)
class Parts:
    """Stretches of arcs from turn ``begin`` to ``end``, in laying order."""

    arc: Indices  # (k,)
    begin: Floats  # (k,)
    end: Floats  # (k,)


@dataclass(frozen=True, eq=False)
class Curves:
    """Cubic Bezier pieces; ``joined`` ones go on from the end of the piece before."""

    arc: Indices  # (k,)
    controls: Floats  # (k, 4, 2)
    joined: NDArray[np.bool_]  # (k,)


def paths(laid: Laid, view: View) -> Curves:
    """All that is seen of the thread, arc after arc."""
    return curves(laid, view, visible(laid, view))


def visible(laid: Laid, view: View) -> Parts:
    """The stretches of all arcs that lie on the near side.

    Depth along an arc is c n_z + r (cos t e1_z + sin t e2_z) = c n_z + m cos(t - peak), so one stretch
    about the peak is in sight, if any.
    """
    depth1, depth2 = view.seen(laid.e1)[:, 2], view.seen(laid.e2)[:, 2]
    peak = np.arctan2(depth2, depth1)
    swing = laid.radius * np.hypot(depth1, depth2)
    level = -laid.offset * view.seen(laid.normal)[:, 2]
    reach = np.arccos(np.clip(level / np.maximum(swing, _TINY), -1, 1))
    # A stretch that never dips out of sight is whole, wherever its peak lies.
    reach = np.where(level <= -swing, np.inf, np.where(level >= swing, 0, reach))
    middles = peak[:, None] + 2 * np.pi * np.arange(-1, 2)
    begin = np.maximum(middles - reach[:, None], 0)
    end = np.minimum(middles + reach[:, None], laid.sweep[:, None])
    begin[:, 1:] = np.maximum(begin[:, 1:], end[:, :-1])
    arc, column = np.nonzero(end - begin > 1e-9)
    return Parts(arc, begin[arc, column], end[arc, column])


def curves(laid: Laid, view: View, parts: Parts, aside: float = 0.0) -> Curves:
    """Stretches as Bezier pieces of at most 45 degrees; ``aside`` half widths off the thread's middle, +1 its edge."""
    count = np.ceil((parts.end - parts.begin) / (np.pi / 4) - 1e-9).astype(np.int64)
    part = np.repeat(np.arange(len(count)), count)
    number = np.arange(len(part)) - np.repeat(np.cumsum(count) - count, count)
    arc = parts.arc[part]
    step = ((parts.end - parts.begin) / count)[part]
    begin = parts.begin[part] + number * step
    lean = np.arcsin(laid.offset) + aside * laid.row_pitch[laid.arc_row] / 2
    level, radius = np.sin(lean)[arc, None], np.cos(lean)[arc, None]
    normal, e1, e2 = (view.seen(axis[arc])[:, :2] for axis in (laid.normal, laid.e1, laid.e2))

    def ends(t: Floats) -> tuple[Floats, Floats]:
        cos, sin = radius * np.cos(t)[:, None], radius * np.sin(t)[:, None]
        return level * normal + cos * e1 + sin * e2, cos * e2 - sin * e1

    (first, leaving), (last, arriving) = ends(begin), ends(begin + step)
    handle = (4 / 3 * np.tan(step / 4))[:, None]
    controls = np.stack([first, first + handle * leaving, last - handle * arriving, last], axis=1)
    return Curves(arc, controls, (number > 0) | _goes_on(laid, parts)[part])


def _goes_on(laid: Laid, parts: Parts) -> NDArray[np.bool_]:
    """Parts whose thread came from the part before: a chain's next arc, or the same arc where stretches meet."""
    arc, before = parts.arc[1:], parts.arc[:-1]
    chained = (laid.arc_span[arc] == laid.arc_span[before]) & (arc == before + 1)
    chained &= (parts.begin[1:] < 1e-9) & (laid.sweep[before] - parts.end[:-1] < 1e-9)
    same = (arc == before) & (np.abs(parts.begin[1:] - parts.end[:-1]) < 1e-9)
    return np.append(False, chained | same)[: len(parts.arc)]
