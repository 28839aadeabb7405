"""The ball's samples in a strip of a picture, as rows of points the scan can work on.

In: a ``Look``, a ``Frame`` and a strip of its lines.  Out: ``Raster``.  Each line of samples is a circle of latitude
about the view's up, so the scan finds the samples under a thread without a search.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from polestitch.laying.laid import Floats
from polestitch.laying.pieces import Look
from polestitch.laying.scan import Indices, Rows
from polestitch.picture.view import Frame
from polestitch.sphere.arcs import Points

Singles = NDArray[np.float32]


@dataclass(frozen=True, eq=False)
class Raster:
    """Samples on the ball from the bottom line up; ``sample`` is their index in the flat grid of ``shape``."""

    rows: Rows
    sample: Indices
    shape: tuple[int, int]


def raster(look: Look, frame: Frame, strip: tuple[int, int], fine: int) -> Raster:
    """Samples on the ball in pixel lines ``strip``, ``fine`` by ``fine`` to a pixel, in a grid of the box's columns."""
    _, _, left_edge, right_edge = frame.box
    shape = (strip[1] - strip[0]) * fine, (right_edge - left_edge) * fine
    column0 = (frame.centre[0] - left_edge) * fine - 0.5
    line0 = (frame.centre[1] - strip[0]) * fine - 0.5
    reach = frame.radius * fine
    line = np.arange(shape[0] - 1, -1, -1)
    y = (line0 - line) / reach
    inside = np.abs(y) < 1 - 1e-9
    line, y = line[inside], y[inside]
    half = reach * np.sqrt(1 - y**2)
    left = np.ceil(column0 - half).astype(np.int64)
    width = np.floor(column0 + half).astype(np.int64) + 1 - left
    start = np.cumsum(width) - width
    column = np.arange(width.sum()) + np.repeat(left - start, width)
    y_of = np.repeat(y, width)

    def at(index: Indices) -> Points:
        x, up = (column[index] - column0) / reach, y_of[index]
        return np.stack([x, up, np.sqrt(np.maximum(1 - x * x - up * up, 0))], axis=1)

    rows = Rows(look, len(column), at, np.arcsin(y), _Placed(start, left, width, half, column0))
    return Raster(rows, column + np.repeat(line * shape[1], width), shape)


@dataclass(frozen=True, eq=False)
class _Placed:
    """Index of the first sample of a line at or past a longitude."""

    start: Indices
    left: Indices
    width: Indices
    half: Floats
    middle: float

    def __call__(self, row: Indices, longitude: Floats) -> Indices:
        x = np.sin(np.minimum(np.maximum(longitude, -np.pi / 2), np.pi / 2)) * self.half.astype(longitude.dtype)[row]
        # Columns are small and not negative here, so that rounding toward zero is rounding down.
        column = (x + (self.middle + 1 - 1e-4)).astype(np.int64) - self.left[row]
        return np.asarray(self.start[row] + np.minimum(np.maximum(column, 0), self.width[row]))


def part(rows: Rows, kept: NDArray[np.bool_]) -> Rows:
    """The rows with only their ``kept`` (n,) points."""
    before, which = np.append(0, np.cumsum(kept)), np.flatnonzero(kept)
    return Rows(
        rows.look,
        len(which),
        lambda index: rows.at(which[index]),
        rows.latitude,
        lambda row, longitude: before[rows.place(row, longitude)],
    )
