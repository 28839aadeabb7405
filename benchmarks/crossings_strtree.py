"""All crossings by a kept spatial library: shapely's STRtree on gnomonic faces, then the exact test.

In: ``Laid``.  Out: ``Crossings``.

Arcs are cut to short pieces, each piece's straight image is clipped to the faces of the cube round the
ball, and its bounding box (grown by how far a wound turn bulges past its chord) goes into one tree a face.
"""

import numpy as np
import shapely
from numpy.typing import NDArray

from polestitch.laying.crossings import Crossings, crossings_among
from polestitch.laying.laid import Laid

Vectors = NDArray[np.float64]


def by_tree(laid: Laid, longest: float) -> Crossings:
    """The crossings, with pieces of at most ``longest`` radians."""
    count = np.ceil(laid.sweep / longest).astype(np.intp)
    arc = np.repeat(np.arange(len(count)), count)
    step = (laid.sweep / count)[arc]
    begin = step * (np.arange(len(arc)) - np.repeat(np.cumsum(count) - count, count))
    ends = laid.at(arc, begin), laid.at(arc, begin + step)
    bulge = np.where(laid.offset[arc] == 0, 0, 4 * (1 - np.cos(step / 2))) + 1e-9
    keys = []
    for axis in range(3):
        for sign in (1.0, -1.0):
            piece, low, high = _boxes(ends, axis, sign, bulge)
            boxes = shapely.box(low[:, 0], low[:, 1], high[:, 0], high[:, 1])
            one, two = arc[piece[shapely.STRtree(boxes).query(boxes)]]
            pairs = (one < two) & (laid.arc_span[one] != laid.arc_span[two])
            keys.append(one[pairs] * len(count) + two[pairs])
    key = np.unique(np.concatenate(keys))
    return crossings_among(laid, key // len(count), key % len(count))


def _boxes(
    ends: tuple[Vectors, Vectors], axis: int, sign: float, bulge: Vectors
) -> tuple[NDArray[np.intp], Vectors, Vectors]:
    """Pieces that reach a face, and their boxes on it."""
    order = [(axis + 1) % 3, (axis + 2) % 3, axis]
    a, b = (end[:, order] * np.array([1, 1, sign]) for end in ends)
    enter, leave = np.zeros(len(a)), np.ones(len(a))
    for k in range(2):
        for side in (1.0, -1.0):
            inside_a, inside_b = a[:, 2] - side * a[:, k] + bulge, b[:, 2] - side * b[:, k] + bulge
            with np.errstate(divide="ignore", invalid="ignore"):
                cut = inside_a / (inside_a - inside_b)
            enter = np.where(inside_a < 0, np.where(inside_b < 0, 2.0, np.maximum(enter, cut)), enter)
            leave = np.where((inside_a >= 0) & (inside_b < 0), np.minimum(leave, cut), leave)
    piece = np.flatnonzero(enter <= leave)
    way = b[piece] - a[piece]
    flat = [a[piece] + s[piece, None] * way for s in (enter, leave)]
    one, two = (p[:, :2] / p[:, 2:] for p in flat)
    grown = bulge[piece, None]
    return piece, np.minimum(one, two) - grown, np.maximum(one, two) + grown
