"""Laid thread as arrays, in laying order.

In: nothing.  Out: ``Laid``.  Everything on the ball's surface is an arc of a circle ``normal . x = offset``
(offset 0: a stitched thread; otherwise a wound turn), so circles stay circles until something is drawn.
"""

from dataclasses import dataclass, fields
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from polestitch.sphere.arcs import Angles, Points, dot

Floats = NDArray[np.float64]
Ints = NDArray[np.int32]


@dataclass(frozen=True, eq=False)
class Laid:
    """Arcs, the spans they make, and the rows those belong to; every array is read-only.

    ``a`` arcs: point at angle ``t`` is ``c n + r (cos t e1 + sin t e2)`` with c the offset,
    r = sqrt(1 - c^2), e1 from the axis to ``start``, e2 = n x e1, and t from 0 to ``sweep``.
    A span is one arc or, where it leans round earlier rows, a chain of consecutive arcs.
    ``s`` spans (a wound turn is one span) and ``w`` rows, all in laying order.
    """

    normal: Points  # (a, 3)
    offset: Floats  # (a,)
    start: Points  # (a, 3)
    sweep: Angles  # (a,) > 0, at most 2 pi
    arc_span: Ints  # (a,) index of its span
    span_row: Ints  # (s,) index of its row
    row_layer: Ints  # (w,) index into design.layers
    row_motif: Ints  # (w,) which motif of that layer
    row_number: Ints  # (w,) 1-based in its motif
    row_thread: Ints  # (w,) index into design.threads
    row_pitch: Floats  # (w,) radians: width one laid thread takes

    def __post_init__(self) -> None:
        """Freeze the arrays."""
        for field in fields(self):
            getattr(self, field.name).setflags(write=False)

    @cached_property
    def arc_row(self) -> Ints:
        """(a,) index of each arc's row."""
        return np.asarray(self.span_row[self.arc_span])

    @cached_property
    def radius(self) -> Floats:
        """(a,) radius of each arc's circle on the unit sphere."""
        return np.asarray(np.sqrt(1 - self.offset**2))

    @cached_property
    def e1(self) -> Points:
        """(a, 3) unit vector from the circle's axis to ``start``."""
        return np.asarray((self.start - self.offset[:, None] * self.normal) / self.radius[:, None])

    @cached_property
    def e2(self) -> Points:
        """(a, 3) unit tangent at ``start``, the way the thread runs."""
        return np.asarray(np.cross(self.normal, self.e1))

    @cached_property
    def length(self) -> Angles:
        """(a,) length of each arc in radians on the ball."""
        return np.asarray(self.radius * self.sweep)

    def at(self, arc: Ints, t: Angles) -> Points:
        """(k, 3) points at angle ``t`` (k,) of arcs ``arc`` (k,)."""
        flat = np.cos(t)[:, None] * self.e1[arc] + np.sin(t)[:, None] * self.e2[arc]
        return np.asarray(self.offset[arc, None] * self.normal[arc] + self.radius[arc, None] * flat)

    def t_of(self, arc: Ints, points: Points) -> Angles:
        """(k,) angle in [0, 2 pi) of ``points`` (k, 3) along arcs ``arc`` (k,)."""
        t = np.arctan2(dot(self.e2[arc], points), dot(self.e1[arc], points))
        return np.asarray(np.where(t < 0, t + 2 * np.pi, t))
