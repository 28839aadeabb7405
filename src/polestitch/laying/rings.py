"""Where laid thread lies on rings round the ball, as intervals with exact ends.

In: ``Laid``.  Out: ``Intervals``.

A thread is a band of its row's pitch.  The band of a circle ``n . x = sin d`` lies between sin(d - w) and
sin(d + w); on the ring of latitude u that is an interval of longitude with two arccosines,
cos(longitude - longitude of n) = (sin(d +- w) - n_z sin u) / (n_xy cos u).  Cut at its highest and lowest
points, an arc has one such interval a ring, and only the rings beside its ends must be trimmed.
The ball is turned by a fixed odd rotation first: a symmetric ball that stands straight would have many
threads run along rings, and hit or miss them all together.
"""

from dataclasses import dataclass
from math import cos, sin

import numpy as np
from numpy.typing import NDArray

from polestitch.laying.laid import Ints, Laid
from polestitch.sphere.arcs import Points

Vectors = NDArray[np.float64]
Indices = NDArray[np.intp]
Flags = NDArray[np.bool_]

ROUND = 2 * np.pi
WIDEST = 8.0  # room for one ring's longitudes in a key that sorts by ring


def _about(axis: int, angle: float) -> Vectors:
    turn = np.eye(3)
    i, j = (axis + 1) % 3, (axis + 2) % 3
    turn[i, i], turn[i, j], turn[j, i], turn[j, j] = cos(angle), -sin(angle), sin(angle), cos(angle)
    return turn


ODD = _about(2, 0.437) @ _about(0, 1.113) @ _about(2, -0.761)  # rows: the rings' own axes


@dataclass(frozen=True, eq=False)
class Intervals:
    """``k`` stretches of rings under one row each; no two of the same row overlap."""

    latitude: Vectors  # (r,) of every ring, about the third row of ``ODD``
    ring: Indices  # (k,)
    begin: Vectors  # (k,) longitude, 0 to 2 pi
    end: Vectors  # (k,) longitude, at most 2 pi

    def point(self, ring: int, longitude: float) -> Points:
        """(3,) a place on a ring, in the ball's own frame."""
        u = self.latitude[ring]
        return np.asarray(np.array([cos(u) * cos(longitude), cos(u) * sin(longitude), sin(u)]) @ ODD)


@dataclass(frozen=True, eq=False)
class Halves:
    """Arcs cut at their highest and lowest points: ``h`` pieces that only rise or only fall."""

    arc: Indices  # (h,)
    t: Vectors  # (2, h) both ends
    cut: Flags  # (2, h) whether the thread ends there, and must be trimmed square
    latitude: Vectors  # (2, h) of both ends
    side: Vectors  # (h,) +1 or -1: east or west of the circle's normal


def intervals(laid: Laid, rings: int) -> Intervals:
    """The rows over each of ``rings`` rings, evenly spaced in latitude.

    The first ring lies a quarter of a step from the pole: on a ball that looks alike from opposite
    sides, the rings of one half then fall between those of the other.
    """
    frame = _Frame(laid.normal @ ODD.T, laid.e1 @ ODD.T, laid.e2 @ ODD.T)
    latitude: Vectors = (np.arange(rings, dtype=np.float64) + 0.25) * (np.pi / rings) - np.pi / 2
    halves = _halves(laid, frame)
    half, ring = _rings_met(laid, halves, latitude)
    begin, end = _band(laid, frame, halves, half, latitude[ring])
    for last in (0, 1):
        _trim(laid, frame, halves, last, (half, latitude[ring], begin, end))
    kept = end > begin
    row = laid.arc_row[halves.arc[half[kept]]]
    return _merged(latitude, ring[kept], row, begin[kept], end[kept])


@dataclass(frozen=True, eq=False)
class _Frame:
    normal: Points
    e1: Points
    e2: Points


def _halves(laid: Laid, frame: _Frame) -> Halves:
    top = np.arctan2(frame.e2[:, 2], frame.e1[:, 2]) % np.pi  # or the lowest point: half a turn away
    arc, begin, end, first, last = [], [], [], [], []
    for low, high in ((0 * top, top), (top, top + np.pi), (top + np.pi, 0 * top + ROUND)):
        kept = np.flatnonzero((low < laid.sweep) & (high > low))
        arc.append(kept)
        begin.append(low[kept])
        end.append(np.minimum(high, laid.sweep)[kept])
        first.append(low[kept] == 0)
        last.append(high[kept] >= laid.sweep[kept])
    owner, t = np.concatenate(arc), np.stack([np.concatenate(begin), np.concatenate(end)])
    cut = np.stack([np.concatenate(first), np.concatenate(last)])
    height = [_along(laid, frame, owner, at)[:, 2] for at in t]
    middle = _along(laid, frame, owner, t.mean(axis=0))
    n = frame.normal[owner]
    east = n[:, 0] * middle[:, 1] - n[:, 1] * middle[:, 0] > 0
    return Halves(owner, t, cut, np.arcsin(np.clip(height, -1, 1)), np.where(east, 1.0, -1.0))


def _along(laid: Laid, frame: _Frame, arc: Indices, t: Vectors) -> Points:
    flat = np.cos(t)[:, None] * frame.e1[arc] + np.sin(t)[:, None] * frame.e2[arc]
    return np.asarray(laid.offset[arc, None] * frame.normal[arc] + laid.radius[arc, None] * flat)


def _rings_met(laid: Laid, halves: Halves, latitude: Vectors) -> tuple[Indices, Indices]:
    """Piece and ring, (k,) each, for every ring between a piece's ends or within its width of one."""
    width = laid.row_pitch[laid.arc_row[halves.arc]] / 2
    first = np.searchsorted(latitude, halves.latitude.min(axis=0) - width)
    count = np.searchsorted(latitude, halves.latitude.max(axis=0) + width) - first
    half = np.repeat(np.arange(len(count)), count)
    return half, np.arange(len(half)) - np.repeat(np.cumsum(count) - count - first, count)


def _band(laid: Laid, frame: _Frame, halves: Halves, half: Indices, latitude: Vectors) -> tuple[Vectors, Vectors]:
    """(k,) west and east ends of each piece's band on rings of these latitudes."""
    x, y, z = frame.normal.T
    flat = np.maximum(np.hypot(x, y), 1e-12)  # a circle round the rings' own axis: all of a ring, or nothing
    middle, width = np.arcsin(laid.offset), laid.row_pitch[laid.arc_row] / 2
    arc = halves.arc[half]
    height, narrowing = (z / flat)[arc] * np.tan(latitude), 1 / np.cos(latitude)
    near = np.arccos(np.clip((np.sin(middle + width) / flat)[arc] * narrowing - height, -1, 1))
    far = np.arccos(np.clip((np.sin(middle - width) / flat)[arc] * narrowing - height, -1, 1))
    side, longitude = halves.side[half], np.arctan2(y, x)[arc]
    return longitude + np.where(side > 0, near, -far), longitude + np.where(side > 0, far, -near)


def _trim(laid: Laid, frame: _Frame, halves: Halves, last: int, met: tuple[Indices, Vectors, Vectors, Vectors]) -> None:
    """Shortens intervals in place where a thread ends: only what lies inward of its square end stays."""
    half, latitude, begin, end = met
    width = laid.row_pitch[laid.arc_row[halves.arc]] / 2
    ends = halves.cut[last] & (laid.sweep[halves.arc] < ROUND)
    at = np.flatnonzero(ends[half] & (np.abs(latitude - halves.latitude[last][half]) <= width[half] + 1e-9))
    arc, t = halves.arc[half[at]], halves.t[last][half[at]]
    inward = (1 - 2 * last) * (np.cos(t)[:, None] * frame.e2[arc] - np.sin(t)[:, None] * frame.e1[arc])
    level, swing = inward[:, 2] * np.sin(latitude[at]), np.hypot(inward[:, 0], inward[:, 1]) * np.cos(latitude[at])
    toward = np.arctan2(inward[:, 1], inward[:, 0])
    west, east = (level + swing * np.cos(longitude - toward) >= 0 for longitude in (begin[at], end[at]))
    opening = np.arccos(np.clip(-level / np.maximum(swing, 1e-300), -1, 1))
    rises = begin[at] + (toward - opening - begin[at]) % ROUND
    falls = begin[at] + (toward + opening - begin[at]) % ROUND
    end[at] = np.where(west & ~east, falls, np.where(west | east, end[at], begin[at]))
    begin[at] = np.where(~west & east, rises, begin[at])


def _merged(latitude: Vectors, ring: Indices, row: Ints, begin: Vectors, end: Vectors) -> Intervals:
    """The intervals cut where longitude starts anew, those of one row on one ring joined where they overlap."""
    turns = np.floor(begin / ROUND) * ROUND
    begin, end = begin - turns, end - turns
    over = np.flatnonzero(end > ROUND)
    ring, row = np.concatenate([ring, ring[over]]), np.concatenate([row, row[over]])
    begin = np.concatenate([begin, np.zeros(len(over))])
    end = np.minimum(np.concatenate([end, end[over] - ROUND]), ROUND)
    strip = WIDEST * (ring * (row.max(initial=0) + 1) + row)
    order = np.argsort(strip + begin)
    reached = np.maximum.accumulate((strip + end)[order])
    fresh = np.ones(len(order), dtype=bool)
    fresh[1:] = (strip + begin)[order[1:]] > reached[:-1]
    closing = np.append(fresh[1:], True)[: len(order)]
    opened = order[fresh]
    reach = np.clip(reached[closing] - strip[opened], begin[opened], ROUND)  # the key keeps 1e-10, not all digits
    return Intervals(latitude, ring[opened], begin[opened], reach)
