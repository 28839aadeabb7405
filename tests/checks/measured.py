"""Thread measured by brute force: dense points along every laid arc, and a k-d tree of scipy to find what is near.

Nothing of the checks' own measuring is used; a chord between unit vectors tells the angle.
"""

from functools import cached_property

import numpy as np
from numpy.typing import NDArray
from scipy.spatial import cKDTree

from polestitch.pipeline import Build
from polestitch.sphere.arcs import Points

STEP_MM = 0.02
Floats = NDArray[np.float64]


class Dense:
    """Every arc of a build as points ``STEP_MM`` apart, each with its row and its span."""

    def __init__(self, made: Build, step_mm: float = STEP_MM) -> None:
        self.made, laid = made, made.laid
        counts = np.ceil(laid.sweep * made.ball.radius_mm / step_mm).astype(int) + 2
        arc = np.repeat(np.arange(len(counts)), counts)
        t = np.concatenate([np.linspace(0, sweep, count) for sweep, count in zip(laid.sweep, counts)])
        axis, offset, start = laid.normal[arc], laid.offset[arc], laid.start[arc]
        arm = start - offset[:, None] * axis  # from the circle's middle to its start
        turned = np.cos(t)[:, None] * arm + np.sin(t)[:, None] * np.cross(axis, arm)
        self.points: Points = offset[:, None] * axis + turned
        self.span = laid.arc_span[arc]
        self.row = laid.span_row[self.span]

    @cached_property
    def _rows(self) -> dict[tuple[int, int, int], int]:
        laid = self.made.laid
        keys = zip(laid.row_layer.tolist(), laid.row_motif.tolist(), laid.row_number.tolist())
        return {key: k for k, key in enumerate(keys)}

    def row_of(self, layer: int, place: str, number: int) -> int:
        """Which laid row is row ``number`` (from 1) of the layer's motif at ``place``."""
        motif = next(m for m in self.made.motifs if m.layer == layer and m.place == place)
        return self._rows[layer, motif.number - 1, number]

    def of_row(self, row: int) -> Points:
        """The points of one laid row."""
        return self.points[self.row == row]

    def of_leg(self, row: int, leg: int) -> Points:
        """The points of leg ``leg`` (from 0) of a laid row."""
        spans = np.flatnonzero(self.made.laid.span_row == row)
        return self.points[self.span == spans[leg]]

    def mm(self, chord: Floats) -> Floats:
        """Millimetres on the ball of chords of the unit sphere."""
        return np.asarray(2 * np.arcsin(chord / 2) * self.made.ball.radius_mm)

    def covered_by(self, at: Points) -> set[int]:
        """The rows whose thread lies over the spot ``at``."""
        away = self.mm(np.linalg.norm(self.points - at, axis=1))
        half = self.made.laid.row_pitch[self.row] * self.made.ball.radius_mm / 2
        return set(self.row[away < half].tolist())


def nearest(points: Points, others: Points) -> tuple[Floats, NDArray[np.intp]]:
    """For each of ``points`` the chord to the nearest of ``others``, and which that is."""
    chord, index = cKDTree(others).query(points)
    return np.asarray(chord), np.asarray(index)
