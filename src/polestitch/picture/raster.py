"""The ball's samples in a picture, as rows of points the scan can work on.

In: a ``View`` and sizes.  Out: ``Raster``.  Each line of samples is a circle of latitude about the view's
up, so the scan finds the samples under a thread without a search.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from polestitch.laying.laid import Floats
from polestitch.laying.scan import Indices, Rows
from polestitch.picture.view import View

Singles = NDArray[np.float32]


@dataclass(frozen=True, eq=False)
class Raster:
    """Samples on the ball from the bottom line up; ``sample`` is their index in the flat grid of size by size."""

    size: int
    centre: tuple[float, float]  # column and row of the ball's middle
    radius: float
    rows: Rows
    sample: Indices


def raster(view: View, size: int, radius: float, centre: tuple[float, float]) -> Raster:
    """The samples within ``radius`` of ``centre`` in a grid of ``size`` by ``size``, one in the middle of each cell."""
    column0, line0, reach = centre[0] - 0.5, centre[1] - 0.5, radius
    line = np.arange(int(np.floor(line0 + reach)), int(np.ceil(line0 - reach)) - 1, -1)
    y = (line0 - line) / reach
    inside = np.abs(y) < 1 - 1e-9
    line, y = line[inside], y[inside]
    half = reach * np.sqrt(1 - y**2)
    left = np.ceil(column0 - half).astype(np.int64)
    width = np.floor(column0 + half).astype(np.int64) + 1 - left
    start = np.cumsum(width) - width
    column = np.arange(width.sum()) + np.repeat(left - start, width)
    x, y_of = (column - column0) / reach, np.repeat(y, width)
    points = np.stack([x, y_of, np.sqrt(np.maximum(1 - x * x - y_of * y_of, 0))], axis=1)
    placed = _Placed(start, left, width, half, column0)
    rows = Rows(view.frame, points, np.arcsin(y), 0.0, placed, front=True)
    return Raster(size, centre, radius, rows, column + np.repeat(line * size, width))


@dataclass(frozen=True, eq=False)
class _Placed:
    """Index of the first sample of a line at or past a longitude."""

    start: Indices
    left: Indices
    width: Indices
    half: Floats
    middle: float

    def __call__(self, row: Indices, longitude: Floats) -> Indices:
        x = np.sin(np.clip(longitude, -np.pi / 2, np.pi / 2)) * self.half[row] + self.middle
        column = np.ceil(x).astype(np.int64) - self.left[row]
        return np.asarray(self.start[row] + np.clip(column, 0, self.width[row]))


def part(rows: Rows, kept: NDArray[np.bool_]) -> Rows:
    """The rows with only their ``kept`` (n,) points."""
    before = np.append(0, np.cumsum(kept))
    return Rows(
        rows.frame, rows.points[kept], rows.latitude, rows.slack, lambda r, at: before[rows.place(r, at)], rows.front
    )
