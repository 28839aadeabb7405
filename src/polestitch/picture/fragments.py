"""What each pixel sees: every thread in it once, with the share of the pixel it fills.

In: a ``Frame``, the ``Subject`` and its ``Scene``.  Out: ``Fragments``.  Which thread is on top is asked
at four samples a pixel (one for the fine wrap), but light is worked out once for each thread of a
pixel, at the middle of the samples it fills.
"""

from dataclasses import dataclass

import numpy as np

from polestitch.laying.laid import Ints
from polestitch.laying.scan import Indices
from polestitch.laying.top import top_arcs
from polestitch.picture.raster import Raster, Singles, part, raster
from polestitch.picture.scene import Scene, Subject, wrap_of
from polestitch.picture.view import Frame, View

_OUTSIDE = -2  # no ball here
BARE = -1  # the deep of the wrap


@dataclass(frozen=True, eq=False)
class Fragments:
    """One thread in one pixel of the frame's box: ``arc`` of the scene, share, place in view axes, threads there."""

    pixel: Indices
    arc: Ints
    share: Singles
    x: Singles
    y: Singles
    layers: Singles


def fragments(frame: Frame, view: View, subject: Subject, scene: Scene) -> Fragments:
    """All of them; those of one pixel are not adjacent."""
    fine = raster(view, 2 * frame.size, 2 * frame.radius, (2 * frame.centre[0], 2 * frame.centre[1]))
    arc, layers = _top(fine, subject, scene)
    corners = _corners(fine, frame, arc, _OUTSIDE)
    depths = _corners(fine, frame, np.minimum(layers, 99), 0)
    columns = corners[0].shape[1]
    corners, depths = [plane.ravel() for plane in corners], [plane.ravel() for plane in depths]
    _wrap(frame, view, subject, corners)
    parts = [_of_corner(k, corners, depths) for k in range(4)]
    which, arcs, masks, deep = (np.concatenate(column) for column in zip(*parts))
    top, _, left, _ = frame.box
    line, column = np.divmod(which, columns)
    x = (column + (_MIDDLE_X[masks] + (left - frame.centre[0]))) / frame.radius
    y = (frame.centre[1] - top - line - _MIDDLE_Y[masks]) / frame.radius
    return Fragments(which, arcs, _SHARE[masks], x.astype(np.float32), y.astype(np.float32), deep.astype(np.float32))


_CORNERS = ((0, 0), (0, 1), (1, 0), (1, 1))
_BITS = (np.arange(16)[:, None] >> np.arange(4)) & 1
_SHARE = (_BITS.sum(1) / 4).astype(np.float32)
_FILLED = np.maximum(_BITS.sum(1), 1)
_MIDDLE_X = (_BITS @ np.array([0.25, 0.75, 0.25, 0.75]) / _FILLED).astype(np.float32)
_MIDDLE_Y = (_BITS @ np.array([0.25, 0.25, 0.75, 0.75]) / _FILLED).astype(np.float32)


def _corners(fine: Raster, frame: Frame, values: Ints, outside: int) -> list[Ints]:
    """Values at each of the four samples of every pixel of the ball's box."""
    grid = np.full(fine.size**2, outside, dtype=np.int32)
    grid[fine.sample] = values
    top, bottom, left, right = frame.box
    square = grid.reshape(fine.size, fine.size)
    return [square[2 * top + i : 2 * bottom : 2, 2 * left + j : 2 * right : 2] for i, j in _CORNERS]


def _of_corner(k: int, corners: list[Ints], depths: list[Ints]) -> tuple[Indices, Ints, Ints, Ints]:
    """Pixels whose thread at corner ``k`` is met there first: place, thread, which corners it fills, threads deep."""
    new = corners[k] != _OUTSIDE
    for earlier in range(k):
        new &= corners[k] != corners[earlier]
    place = np.flatnonzero(new)
    thread = corners[k][place]
    mask = np.full(len(place), 1 << k, dtype=np.int32)
    for later in range(k + 1, 4):
        mask |= (corners[later][place] == thread).astype(np.int32) << later
    return place, thread, mask, depths[k][place]


def _top(fine: Raster, subject: Subject, scene: Scene) -> tuple[Ints, Ints]:
    """(n,) top arc of the scene at each sample, and how many stitched threads lie there."""
    arc, layers = top_arcs(subject.laid, fine.rows, subject.reversed_at)
    arc = np.where(arc >= 0, arc + scene.stitched, BARE).astype(np.int32)
    if subject.marking is not None:
        bare = arc < 0
        marking, _ = top_arcs(subject.marking, part(fine.rows, bare))
        arc[bare] = np.where(marking >= 0, marking + scene.marked, BARE)
    return arc, layers


def _wrap(frame: Frame, view: View, subject: Subject, corners: list[Ints]) -> None:
    """Lay the wrap's thread where the ground shows: in every bare sample of a pixel the one at its middle."""
    top, bottom, left, right = frame.box
    bare = (corners[0] == BARE) | (corners[1] == BARE) | (corners[2] == BARE) | (corners[3] == BARE)
    shows = np.zeros((frame.size, frame.size), dtype=bool)
    shows[top:bottom, left:right] = bare.reshape(bottom - top, right - left)
    coarse = raster(view, frame.size, frame.radius, frame.centre)
    kept = shows.ravel()[coarse.sample]
    arc, _ = top_arcs(wrap_of(subject.around_mm), part(coarse.rows, kept))
    found = np.full(frame.size**2, BARE, dtype=np.int32)
    found[coarse.sample[kept]] = arc
    here = found.reshape(frame.size, frame.size)[top:bottom, left:right].ravel()
    for corner in corners:
        np.copyto(corner, here, where=corner == BARE)
