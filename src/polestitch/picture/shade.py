"""Light on cord: the colour of every fragment.

In: a ``Scene`` and its ``Fragments``.  Out: linear light and height per fragment.  All in single precision, in
blocks that stay in the processor's cache.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from polestitch.picture.cord import ACROSS, ALONG, FIBRES, HALF_TURN, Cord, cord
from polestitch.picture.fragments import BARE, Fragments
from polestitch.picture.raster import Singles
from polestitch.picture.scene import TWISTS, Scene

_BLOCK = 16384


def _unit(x: float, y: float, z: float) -> Singles:
    vector = np.array([x, y, z])
    return (vector / np.sqrt(vector @ vector)).astype(np.float32)


# A window up left, a cool room to the right, and the eye straight ahead.
KEY = _unit(-0.46, 0.62, 0.64)
FILL = _unit(0.80, 0.00, 0.50)
HALFWAY = _unit(*(KEY + np.array([0, 0, 1])))
# Red, green and blue of each light.
_KEY_LIGHT = np.array([1.12, 1.085, 1.03], np.float32)
_FILL_LIGHT = np.array([0.17, 0.185, 0.215], np.float32)
_SKY_LIGHT = np.array([0.30, 0.305, 0.32], np.float32)
_PAGE_LIGHT = np.array([0.20, 0.195, 0.185], np.float32)
_RIM_LIGHT = np.array([0.10, 0.108, 0.125], np.float32)


@dataclass(frozen=True, eq=False)
class Shaded:
    """(3, n) linear light and (n,) height above the wrap in threads."""

    light: Singles
    height: Singles


@dataclass(frozen=True, eq=False)
class _Spot:
    """One block of fragments: place, the thread's directions there, and the surface's."""

    place: Singles  # (3, n) unit, out of the ball
    along: Singles  # (3, n) unit, the way the thread runs
    face: Singles  # (3, n) unit, out of the cord's surface
    rise: Singles  # the surface direction's share out of the ball, and along the thread
    lean: Singles
    open: Singles
    fibre: Singles
    across: Singles  # -1 to 1 over the thread
    run: Singles  # half widths along the thread
    end: Singles  # 0, to -1 or 1 on a round end


def shaded(scene: Scene, fragments: Fragments, twist: int = -1) -> Shaded:
    """Light and height of all fragments; ``twist`` -1 for S, the usual final twist of pearl cotton (from memory)."""
    count = len(fragments.arc)
    light, height = np.empty((3, count), np.float32), np.empty(count, np.float32)
    tables = _tables(cord(twist))
    for start in range(0, count, _BLOCK):
        block = slice(start, min(start + _BLOCK, count))
        bare = fragments.arc[block] == BARE
        arc = np.where(bare, 0, fragments.arc[block])
        spot = _spot(scene, tables, arc, fragments.x[block], fragments.y[block])
        colour = scene.colour[:, arc]
        light[:, block] = _cotton(spot, colour, np.where(arc < scene.marked, np.float32(0.25), np.float32(1)))
        _metal_over(light[:, block], spot, colour, scene, arc)
        light[:, block] *= np.where(bare, _DEEP, 1)
        height[block] = _height(scene, spot, arc)
    return Shaded(light, height)


_WRAP_ROUND = 0.62  # the wrap's thread is pressed flat
_DEEP = np.float32(0.90)  # how dark the gaps of the wrap are


def _height(scene: Scene, spot: _Spot, arc: NDArray[np.int64]) -> Singles:
    """Height over what lies below, in threads: the wrap barely rises, the marking half."""
    round_top = np.sqrt(np.maximum(1 - spot.across**2 - spot.end**2, 0))
    low = np.where(arc < scene.marked, 0.08 * round_top, 0.1 + 0.4 * round_top)
    return np.where(arc >= scene.stitched, 0.35 + 0.9 * round_top, low).astype(np.float32)


def _tables(surface: Cord) -> Cord:
    """The cord's tables for every strength of the twist, from a smooth round thread to the full cord."""
    share = np.linspace(0, 1, TWISTS, dtype=np.float32)[:, None]
    u = np.tile(np.linspace(-0.93, 0.93, ACROSS, dtype=np.float32), ALONG)
    across = share * surface.across + (1 - share) * u
    along = share * surface.along
    outward = share * surface.outward + (1 - share) * np.sqrt(1 - u**2)
    is_open = share * surface.open + (1 - share) * (1 - np.float32(0.42) * np.abs(u) ** 3)
    length = np.sqrt(across**2 + along**2 + outward**2)
    flat = ((across / length).ravel(), (along / length).ravel(), (outward / length).ravel(), is_open.ravel())
    return Cord(*flat, surface.fibre)


def _spot(scene: Scene, tables: Cord, arc: NDArray[np.int64], x: Singles, y: Singles) -> _Spot:
    z = np.sqrt(np.maximum(1 - x * x - y * y, 0))
    nx, ny, nz = (scene.normal[k].take(arc) for k in range(3))
    offset, half, radius = scene.offset.take(arc), scene.half.take(arc), scene.radius.take(arc)
    level = nx * x + ny * y + nz * z
    scale = 1 / radius
    across = np.clip((level - offset) * scale / half, -0.999, 0.999)
    across = np.where(arc < scene.marked, across * np.float32(_WRAP_ROUND), across)
    tx, ty, tz = (ny * z - nz * y) * scale, (nz * x - nx * z) * scale, (nx * y - ny * x) * scale
    run = _angle(scene, arc, x, y, z) * radius / half
    end = np.clip(np.minimum(run - scene.first.take(arc), 0) + np.maximum(run - scene.last.take(arc), 0), -1, 1)
    run += scene.phase.take(arc)
    column = ((across + 1) * np.float32(ACROSS / 2)).astype(np.int32)
    turn = (run * np.float32(ALONG / HALF_TURN)).astype(np.int32) & (ALONG - 1)
    cell = turn * ACROSS + column + scene.twist.take(arc) * (ACROSS * ALONG)
    side, lean, rise = tables.across.take(cell), tables.along.take(cell) + end, tables.outward.take(cell)
    shrink = 1 / np.sqrt(1 + end * end + 2 * end * (lean - end))
    side, lean, rise = side * shrink, lean * shrink, rise * shrink
    sideways = side * scale
    out = rise - sideways * level
    face = np.stack(
        [out * x + sideways * nx + lean * tx, out * y + sideways * ny + lean * ty, out * z + sideways * nz + lean * tz]
    )
    fibre = tables.fibre.take(((run * 6).astype(np.int32) & (FIBRES - 1)) * ACROSS + column)
    is_open = tables.open.take(cell) * (1 - np.float32(0.35) * np.abs(end))
    return _Spot(np.stack([x, y, z]), np.stack([tx, ty, tz]), face, rise, lean, is_open, fibre, across, run, end)


def _angle(scene: Scene, arc: NDArray[np.int64], x: Singles, y: Singles, z: Singles) -> Singles:
    """Angle along each arc from its middle."""
    a, m = scene.ahead, scene.middle
    ahead = a[0].take(arc) * x + a[1].take(arc) * y + a[2].take(arc) * z
    middle = m[0].take(arc) * x + m[1].take(arc) * y + m[2].take(arc) * z
    return np.arctan2(ahead, middle)


def _on(vector: Singles, light: Singles) -> Singles:
    return vector[0] * light[0] + vector[1] * light[1] + vector[2] * light[2]


def _daylight(place: Singles) -> Singles:
    """How much of the window a place of the ball sees: all, down to none behind the turn into shade."""
    share = np.clip(_on(place, KEY) * np.float32(1.25) + np.float32(0.62), 0, 1)
    return share * share * (3 - 2 * share)


def _cotton(spot: _Spot, colour: Singles, gloss: Singles) -> Singles:
    """Soft light that wraps round the cord, and a narrow sheen square to the fibres."""
    day = _daylight(spot.place)
    key = np.maximum(_on(spot.face, KEY) * np.float32(0.80) + np.float32(0.20), 0) * day
    fill = np.maximum(_on(spot.face, FILL) * np.float32(0.65) + np.float32(0.35), 0)
    sky = 0.5 + 0.5 * spot.face[1]
    page = np.maximum(-spot.face[1], 0)
    shine = gloss * day * _sheen(spot)
    rim = (1 - spot.place[2]) ** 3 * np.maximum(0.6 + 0.6 * spot.face[0], 0) * spot.open
    dim = spot.open * spot.fibre
    light = np.empty_like(colour)
    for k in range(3):
        level = key * _KEY_LIGHT[k] + fill * _FILL_LIGHT[k] + sky * _SKY_LIGHT[k] + page * _PAGE_LIGHT[k]
        light[k] = colour[k] * level * dim + shine * (0.03 + 0.12 * np.sqrt(colour[k])) + rim * _RIM_LIGHT[k]
    return light


def _sheen(spot: _Spot) -> Singles:
    """Light off fibres (Kajiya and Kay 1989): strongest square to them; the cord's own roundness narrows it."""
    slant = spot.rise * _on(spot.along, HALFWAY) - spot.lean * _on(spot.place, HALFWAY)
    square = np.maximum(1 - slant * slant, 0)
    front = np.maximum(_on(spot.face, HALFWAY), 0)
    return (square * square * front) ** 8 * spot.fibre


def _metal_over(light: Singles, spot: _Spot, colour: Singles, scene: Scene, arc: NDArray[np.int64]) -> None:
    """Metallic thread: facets of foil, each tilted by chance, that mirror the window and the room."""
    which = np.flatnonzero(scene.metallic[arc])
    if not len(which):
        return
    facet = _facets(spot, arc, which)
    mirrored = 2 * facet[2] * facet
    mirrored[2] -= 1
    day = _daylight(spot.place[:, which])
    window = np.maximum(_on(mirrored, KEY), 0)
    room = 0.36 + 0.36 * np.maximum(0.5 + 0.6 * mirrored[1], 0) ** 2 + 0.35 * np.maximum(_on(mirrored, FILL), 0) ** 3
    glow = (0.95 * window**2 + 2.0 * window**12) * day
    glint = 2.6 * window**50 * day
    shade = spot.open[which]
    for k, warm in enumerate((1.0, 0.84, 0.62)):
        metal = 0.88 * colour[k, which] + 0.05
        light[k, which] = (metal * (room * warm + glow + glint) + 0.35 * glint) * shade


def _facets(spot: _Spot, arc: NDArray[np.int64], which: NDArray[np.int64]) -> Singles:
    number = (spot.run[which] * 0.9 + spot.across[which] * 0.8).astype(np.int64)
    chance = (number * 1664525 + arc[which] * 22695477 + 12345) >> 4
    tilt = ((chance & 255) / 255 - 0.5).astype(np.float32)
    roll = ((chance >> 8 & 255) / 255 - 0.5).astype(np.float32)
    face, along = spot.face[:, which], spot.along[:, which]
    facet = face + 0.55 * tilt * along + 0.25 * roll * spot.place[:, which][[1, 2, 0]]
    return facet / np.sqrt((facet * facet).sum(0))
