"""From fragments to a finished picture: depth between threads, the ball's outline, its shadow, and bytes.

In: ``Frame``, strips of ``Fragments`` and ``Shaded``.  Out: (size, size, 4) bytes, RGBA, not premultiplied.
"""

from dataclasses import dataclass
from typing import TypeVar

import numpy as np
from numpy.typing import NDArray
from PIL import Image, ImageFilter

from polestitch.picture.colours import bytes_of
from polestitch.picture.fragments import BARE, Fragments
from polestitch.picture.raster import Singles
from polestitch.picture.shade import KEY, Shaded
from polestitch.picture.view import Frame

_Kind = TypeVar("_Kind", bound=np.generic)


@dataclass(frozen=True, eq=False)
class Exposure:
    """What has been gathered of the ball's box, in arrays that each strip adds to."""

    light: Singles  # (3, lines, columns), premultiplied
    height: Singles  # (lines, columns) of the top thread over what lies below, in threads
    buried: Singles  # (lines, columns) threads below the top one
    cover: Singles  # (lines, columns) share of the pixel that is ball
    motif: NDArray[np.int32]  # (lines, columns) which motif the top thread belongs to


def unexposed(frame: Frame) -> Exposure:
    """Nothing yet."""
    top, bottom, left, right = frame.box
    plane = (bottom - top, right - left)
    light, height, buried, cover = np.zeros((3, *plane), np.float32), *(np.zeros(plane, np.float32) for _ in range(3))
    return Exposure(light, height, buried, cover, np.full(plane, -1, np.int32))


def expose(exposure: Exposure, fragments: Fragments, shade: Shaded, motif: NDArray[np.int32]) -> None:
    """Add one strip's fragments; ``motif`` is that of each arc of the scene."""
    if not len(fragments.pixel):
        return
    first = int(fragments.pixel.min())
    pixel = fragments.pixel - first
    length = int(pixel.max()) + 1

    def add(plane: Singles, value: Singles) -> None:
        sums = np.bincount(pixel, weights=value * fragments.share, minlength=length)
        plane.reshape(-1)[first : first + length] += sums.astype(np.float32)

    for plane, channel in zip(exposure.light, shade.light):
        add(plane, channel)
    add(exposure.height, shade.height)
    add(exposure.buried, np.clip(fragments.layers - 1, 0, 4))
    add(exposure.cover, np.ones_like(fragments.share))
    exposure.motif.reshape(-1)[fragments.pixel] = np.where(fragments.arc == BARE, -1, motif[fragments.arc])


def developed(frame: Frame, exposure: Exposure, thread: float) -> NDArray[np.uint8]:
    """The picture; ``thread`` is the width of a thread in pixels, which sets how far shadows reach."""
    light, cover = exposure.light, exposure.cover
    # What is hidden below a motif's own thread shows only as a soft swell; between motifs there is a step.
    swell = exposure.height + np.float32(0.9) * _blurred(exposure.buried, 0.6 * thread)
    step = exposure.height + np.float32(1.3) * _blurred(exposure.buried, 0.15 * thread)
    light *= _hollow(swell, thread) * _shade(swell, step, exposure.motif, thread)
    _stand_up(frame, light, swell, cover, thread)
    top, bottom, left, right = frame.box
    alpha: Singles = _shadow(frame)
    alpha[top:bottom, left:right] = 1 - (1 - alpha[top:bottom, left:right]) * (1 - cover)
    opaque = np.maximum(alpha[top:bottom, left:right], np.float32(1e-3))
    picture = np.zeros((frame.size, frame.size, 4), np.uint8)
    for k in range(3):
        picture[top:bottom, left:right, k] = bytes_of(light[k] / opaque)
    picture[..., 3] = alpha * 255 + np.float32(0.5)
    return picture


def _hollow(height: Singles, thread: float) -> Singles:
    """Share of light that reaches hollows."""
    near = np.maximum(_blurred(height, thread) - height, 0)
    wide = np.maximum(_blurred(height, 3 * thread) - height, 0)
    return np.exp(np.float32(-0.30) * near - np.float32(0.15) * wide)


def _shade(swell: Singles, step: Singles, motif: NDArray[np.int32], thread: float) -> Singles:
    """Share of light that is left where a higher thread stands toward the window."""
    shade = np.zeros_like(swell)
    for k in range(1, 5):
        reach = 0.45 * k * thread
        way = round(float(KEY[1]) * reach), round(-float(KEY[0]) * reach)
        other = _moved(motif, *way) != motif
        rise = np.where(other, _moved(step, *way) - step, _moved(swell, *way) - swell - np.float32(0.1 * k))
        rise -= np.float32(0.22 * k)
        np.maximum(shade, np.clip(rise * np.float32(1.4), 0, 1) * np.float32(1.15 - 0.15 * k), out=shade)
    return 1 - np.float32(0.55) * shade


def _moved(plane: NDArray[_Kind], down: int, right: int) -> NDArray[_Kind]:
    moved = np.zeros_like(plane)
    lines, columns = plane.shape
    moved[down:, right:] = plane[: lines - down, : columns - right]
    return moved


def _blurred(plane: Singles, radius: float) -> Singles:
    """``plane`` (0 to 5) through a soft window; far blurs are taken from a picture of half the size."""
    grey = Image.fromarray((plane * _LEVELS + np.float32(0.5)).astype(np.uint8))
    if radius > 4:
        small = grey.reduce(2).filter(ImageFilter.GaussianBlur(radius / 2))
        grey = small.resize(grey.size, Image.Resampling.BILINEAR)
    else:
        grey = grey.filter(ImageFilter.GaussianBlur(radius))
    return np.asarray(grey, dtype=np.float32) / _LEVELS


_LEVELS = np.float32(50)  # grey levels to a thread's height; five threads fit a byte


def _stand_up(frame: Frame, light: Singles, height: Singles, cover: Singles, thread: float) -> None:
    """Let thread stand up over the ball's outline: stretch the outermost pixels as far as it is high there."""
    top, bottom, left, right = frame.box
    reach, inner = frame.radius, frame.radius - 2 - thread / 2
    x = np.arange(left, right, dtype=np.float32)[None, :] + np.float32(0.5 - frame.centre[0])
    y = np.arange(top, bottom, dtype=np.float32)[:, None] + np.float32(0.5 - frame.centre[1])
    square = x * x + y * y
    line, column = np.nonzero((square > inner**2) & (square < (reach + thread + 2) ** 2))
    out = np.sqrt(square[line, column])
    x, y = x[0, column] / out, y[line, 0] / out
    soft = _blurred(height, 0.35 * thread)
    rise = np.minimum(0.3 * thread * soft[_pixel(frame, x, y, inner)], 0.6 * thread)
    share = np.clip((out - inner) / (reach + rise - inner), 0, 1)
    source = _pixel(frame, x, y, inner + share * (reach - 1 - inner))
    edge = np.clip(reach + rise - out + np.float32(0.5), 0, 1).astype(np.float32)
    light[:, line, column] = light[:, *source] * (edge / np.maximum(cover[source], np.float32(0.25)))
    cover[line, column] = edge


def _pixel(frame: Frame, x: Singles, y: Singles, out: Singles | float) -> tuple[NDArray[np.int64], NDArray[np.int64]]:
    """Line and column in the box of the pixel ``out`` from the ball's middle in direction ``x, y``."""
    top, _, left, _ = frame.box
    return (y * out + (frame.centre[1] - top)).astype(np.int64), (x * out + (frame.centre[0] - left)).astype(np.int64)


def _shadow(frame: Frame) -> Singles:
    """The soft shadow on the page below the ball: a wide one, and the dark of the touch."""
    place = np.arange(frame.size, dtype=np.float32) + np.float32(0.5)
    x, y = ((place - np.float32(at)) / np.float32(frame.radius) for at in frame.centre)
    shadow = np.zeros((frame.size, frame.size), np.float32)
    low = np.flatnonzero(np.abs(y - 1) < 0.2)
    y = y[low, None]
    wide = np.maximum(1 - np.sqrt(((x - 0.05) / 0.98) ** 2 + ((y - 1.0) / 0.17) ** 2), 0)
    touch = np.maximum(1 - ((x - 0.02) / 0.55) ** 2 - ((y - 0.985) / 0.07) ** 2, 0)
    shadow[low] = 1 - (1 - np.float32(0.42) * wide**1.6) * (1 - np.float32(0.5) * touch**1.4)
    return shadow
