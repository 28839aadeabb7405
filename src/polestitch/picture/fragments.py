"""What each pixel sees: every thread in it once, with the share of the pixel it fills.

In: a ``Stage`` and a strip of the picture.  Out: ``Fragments``.  Which thread is on top is asked at four samples
a pixel (one for the fine wrap), but light is worked out once for each thread of a pixel, at the middle of the
samples it fills.
"""

from dataclasses import dataclass

import numpy as np

from polestitch.laying.laid import Ints, Laid
from polestitch.laying.pieces import Bands, Look, bands_of
from polestitch.laying.scan import Indices
from polestitch.laying.top import top_arcs
from polestitch.picture.raster import Raster, Singles, part, raster
from polestitch.picture.scene import Scene, Subject, scene, wrap_of
from polestitch.picture.view import Frame, View

_OUTSIDE = -2  # no ball here
BARE = -1  # the deep of the wrap


@dataclass(frozen=True, eq=False)
class Stage:
    """A subject set up before the eye: its arcs as tables for the light, and as bands for the scan."""

    subject: Subject
    frame: Frame
    scene: Scene
    look: Look
    wrap: tuple[Laid, Bands]
    marking: tuple[Laid, Bands] | None
    stitched: tuple[Laid, Bands]


@dataclass(frozen=True, eq=False)
class Fragments:
    """One thread in one pixel of the frame's box: ``arc`` of the scene, share, place in view axes, threads there."""

    pixel: Indices
    arc: Ints
    share: Singles
    x: Singles
    y: Singles
    layers: Singles


def stage(subject: Subject, view: View, frame: Frame) -> Stage:
    """``subject`` set up for a picture."""
    look = Look(view.frame, front=True, rough=True)

    def seen(laid: Laid) -> tuple[Laid, Bands]:
        return laid, bands_of(laid, look)

    marking = None if subject.marking is None else seen(subject.marking)
    shown = scene(subject, view, frame.radius)
    return Stage(subject, frame, shown, look, seen(wrap_of(subject.around_mm)), marking, seen(subject.laid))


def fragments(stage: Stage, strip: tuple[int, int]) -> Fragments:
    """All of the pixel lines ``strip``; those of one pixel are not adjacent."""
    frame = stage.frame
    fine = raster(stage.look, frame, strip, 2)
    arc, layers = _top(fine, stage)
    corners, depths = _corners(fine, arc, _OUTSIDE), _corners(fine, np.minimum(layers, 99), 0)
    _wrap(stage, strip, corners)
    parts = [_of_corner(k, corners, depths) for k in range(4)]
    which, arcs, masks, deep = (np.concatenate(column) for column in zip(*parts))
    top, _, left, right = frame.box
    line, column = np.divmod(which, right - left)
    x = (column + (_MIDDLE_X[masks] + (left - frame.centre[0]))) / frame.radius
    y = (frame.centre[1] - strip[0] - line - _MIDDLE_Y[masks]) / frame.radius
    pixel = which + (strip[0] - top) * (right - left)
    return Fragments(pixel, arcs, _SHARE[masks], x.astype(np.float32), y.astype(np.float32), deep.astype(np.float32))


_CORNERS = ((0, 0), (0, 1), (1, 0), (1, 1))
_BITS = (np.arange(16)[:, None] >> np.arange(4)) & 1
_SHARE = (_BITS.sum(1) / 4).astype(np.float32)
_FILLED = np.maximum(_BITS.sum(1), 1)
_MIDDLE_X = (_BITS @ np.array([0.25, 0.75, 0.25, 0.75]) / _FILLED).astype(np.float32)
_MIDDLE_Y = (_BITS @ np.array([0.25, 0.25, 0.75, 0.75]) / _FILLED).astype(np.float32)


def _corners(fine: Raster, values: Ints, outside: int) -> list[Ints]:
    """Values at each of the four samples of every pixel."""
    grid = np.full(fine.shape[0] * fine.shape[1], outside, dtype=np.int32)
    grid[fine.sample] = values
    square = grid.reshape(fine.shape)
    return [square[i::2, j::2].ravel() for i, j in _CORNERS]


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


def _top(fine: Raster, stage: Stage) -> tuple[Ints, Ints]:
    """(n,) top arc of the scene at each sample, and how many stitched threads lie there."""
    arc, layers = top_arcs(*stage.stitched, fine.rows, stage.subject.reversed_at)
    arc = np.where(arc >= 0, arc + stage.scene.stitched, BARE).astype(np.int32)
    if stage.marking is not None:
        bare = arc < 0
        marking, _ = top_arcs(*stage.marking, part(fine.rows, bare))
        arc[bare] = np.where(marking >= 0, marking + stage.scene.marked, BARE)
    return arc, layers


def _wrap(stage: Stage, strip: tuple[int, int], corners: list[Ints]) -> None:
    """Lay the wrap's thread where the ground shows: in every bare sample of a pixel the one at its middle."""
    bare = (corners[0] == BARE) | (corners[1] == BARE) | (corners[2] == BARE) | (corners[3] == BARE)
    coarse = raster(stage.look, stage.frame, strip, 1)
    kept = bare[coarse.sample]
    arc, _ = top_arcs(*stage.wrap, part(coarse.rows, kept))
    found = np.full(len(bare), BARE, dtype=np.int32)
    found[coarse.sample[kept]] = arc
    for corner in corners:
        np.copyto(corner, found, where=corner == BARE)
