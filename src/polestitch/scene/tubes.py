"""Thread as solid tubes, for files that carry the ball to other programs.

In: laid thread.  Out: corners, normals and triangles for each thread of the design, on a ball of radius 1.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from polestitch.laying.laid import Laid
from polestitch.sphere.arcs import Points, cross

SIDES = 6
STEP = np.radians(4.0)  # a chord of four degrees strays by 0.06 % of the radius: a fortieth of a millimetre
# In threads: how much higher an arc lies for each layer beneath it, and the last row than the first of a layer, so
# that later thread lies over earlier.  By eye: more floats, less sinks in.
OVER, LATER = 0.7, 0.6


@dataclass(frozen=True, eq=False)
class Tubes:
    """All tubes of one thread: (v, 3) corners and normals, (f, 3) triangles seen from outside."""

    thread: int
    corners: Points
    normals: Points
    triangles: NDArray[np.int64]


def tubes(laid: Laid, lift: NDArray[np.uint8]) -> tuple[Tubes, ...]:
    """The tubes of every thread that is used, in the order of the document; ``lift`` (a,) counts layers beneath.

    Heights are not those of real piles: an arc keeps its height from end to end.
    """
    share = laid.arc_row / max(1, len(laid.row_layer) - 1)
    height = OVER * lift + LATER * share
    steps = np.maximum(1, np.ceil(laid.sweep / STEP)).astype(np.int64)
    thread = laid.row_thread[laid.arc_row]
    return tuple(_of_thread(laid, np.flatnonzero(thread == k), steps, height) for k in np.unique(thread).tolist())


def _of_thread(laid: Laid, arcs: NDArray[np.int64], steps: NDArray[np.int64], height: NDArray[np.float64]) -> Tubes:
    rings = steps[arcs] + 1
    arc = np.repeat(arcs, rings).astype(np.int32)
    first = np.cumsum(rings) - rings
    count = np.arange(len(arc)) - np.repeat(first, rings)
    middle = laid.at(arc, laid.sweep[arc] * count / np.repeat(steps[arcs], rings))
    along = cross(laid.normal[arc], middle)
    along /= np.linalg.norm(along, axis=1)[:, None]
    half = laid.row_pitch[laid.arc_row[arc]] / 2
    corners, normals = _rings(middle, cross(along, middle), half, 1 + half * (1 + 2 * height[arc]))
    joined = np.flatnonzero(count[1:] > 0) + 1
    return Tubes(int(laid.row_thread[laid.arc_row[arcs[0]]]), corners, normals, _triangles(joined))


def _rings(
    middle: Points, aside: Points, half: NDArray[np.float64], height: NDArray[np.float64]
) -> tuple[Points, Points]:
    turn = 2 * np.pi * np.arange(SIDES) / SIDES
    normals = np.cos(turn)[None, :, None] * middle[:, None] + np.sin(turn)[None, :, None] * aside[:, None]
    corners = (height[:, None] * middle)[:, None] + half[:, None, None] * normals
    return corners.reshape(-1, 3), normals.reshape(-1, 3)


def _triangles(joined: NDArray[np.int64]) -> NDArray[np.int64]:
    """Two for each side between a ring and the one before it."""
    side = np.arange(SIDES)
    here, next_ = joined[:, None] * SIDES + side, joined[:, None] * SIDES + (side + 1) % SIDES
    before, before_next = here - SIDES, next_ - SIDES
    quads = np.stack([before, next_, here, before, before_next, next_], axis=-1)
    return quads.reshape(-1, 3)
