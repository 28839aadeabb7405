"""Which arcs cover which points: points in rows of latitude, and the run each arc's band cuts out of a row.

In: ``Bands`` of thread and ``Rows`` of points.  Out: ``Pairs`` of point and arc in laying order.
A band meets a circle of latitude in an interval of longitude with a closed form, so where rows have
no height (the lines of a picture) no pair is tried in vain but near the ends of a thread.
"""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from polestitch.laying.laid import Floats
from polestitch.laying.pieces import Bands, End, Look
from polestitch.sphere.arcs import Points, dot, unit

Indices = NDArray[np.int64]
Flags = NDArray[np.bool_]
_TINY = 1e-12


@dataclass(frozen=True, eq=False)
class Rows:
    """Points in rows about an axis, each row by rising longitude; see ``Look``.

    ``at(index)`` are the points themselves, (k, 3) in the axes of the look.  ``place(row, longitude)`` is the
    index of the first point of a row at or past a longitude, which may lie up to half a turn outside -pi to pi.
    """

    look: Look
    count: int
    at: Callable[[Indices], Points]
    latitude: Floats  # (r,) rising
    place: Callable[[Indices, Floats], Indices]


@dataclass(frozen=True, eq=False)
class Pairs:
    """Point ``point[k]`` is covered by the thread of arc ``arc[k]``; pairs in laying order of the arcs.

    One past the last point stands for none: such a pair was tried in vain.
    """

    point: Indices
    arc: Indices


def rows_of(points: Points, height: float) -> tuple[Rows, Indices]:
    """Rows for any unit vectors, about ``height`` radians high, and the order the points were sorted in.

    The axis is an odd one: rows along the lines of a symmetric ball would bunch its arcs.
    """
    turned = points @ _ODD.T
    count = max(1, min(4096, int(np.ceil(np.pi / height))))
    step = np.pi / count
    latitude = np.arcsin(np.clip(turned[:, 1], -1, 1))
    row = np.clip(((latitude + np.pi / 2) / step).astype(np.int64), 0, count - 1)
    key = 8.0 * row + np.arctan2(turned[:, 0], turned[:, 2])
    order = np.argsort(key, kind="stable")
    key = key[order]
    middles = np.linspace(step / 2 - np.pi / 2, np.pi / 2 - step / 2, count)
    look = Look(_ODD, slack=step / 2)
    turned = turned[order]

    def place(row: Indices, longitude: Floats) -> Indices:
        return np.searchsorted(key, 8.0 * row + np.clip(longitude, -4, 4))

    return Rows(look, len(turned), lambda index: turned[index], middles, place), order


def covering(bands: Bands, rows: Rows) -> Pairs:
    """All pairs of a point and an arc whose thread covers it: half a pitch each side, with round ends."""
    pieces = bands.pieces
    first = np.searchsorted(rows.latitude, pieces.low)
    piece, row = _runs(first, np.searchsorted(rows.latitude, pieces.high, side="right"))
    start, stop, interval = _intervals(bands, rows, piece, row)
    piece, latitude = piece[interval], rows.latitude[row[interval]]
    run, point = _runs(start, stop)
    pairs = Pairs(point, pieces.arc[piece][run])
    if bands.look.slack > 0:
        point[~_within(bands, rows, pairs)] = rows.count
        return pairs
    stops = np.cumsum(stop - start)
    starts = stops - stop + start
    for end in (pieces.first, pieces.last):
        runs = np.flatnonzero((latitude < end.below[piece]) | (latitude > end.above[piece]))
        _, near = _runs(starts[runs], stops[runs])
        near = near[point[near] < rows.count]
        point[near[~_before_end(rows.at(point[near]), pairs.arc[near], end, bands.half)]] = rows.count
    along_rows = np.flatnonzero(pieces.side[piece] == 0)
    _, near = _runs(starts[along_rows], stops[along_rows])
    near = near[point[near] < rows.count]
    point[near[~_within(bands, rows, Pairs(point[near], pairs.arc[near]))]] = rows.count
    return pairs


def _runs(start: Indices, stop: Indices) -> tuple[Indices, Indices]:
    """Owner and member of every run ``start .. stop``."""
    count = np.maximum(stop - start, 0)
    owner = np.repeat(np.arange(len(count)), count)
    shift = start - np.cumsum(count) + count
    return owner, np.arange(len(owner)) + shift[owner]


def _intervals(bands: Bands, rows: Rows, piece: Indices, row: Indices) -> tuple[Indices, Indices, Indices]:
    """Runs of points, start and stop, and the pair of piece and row each belongs to."""
    a, b = _longitudes(bands, rows, piece, row)
    which = np.arange(len(a))
    if not rows.look.front:
        # An interval over the seam at half a turn is looked up on both sides of it.
        over = np.flatnonzero((b > np.pi) | (a < -np.pi))
        turn = np.where(b[over] > np.pi, -2 * np.pi, 2 * np.pi)
        which = np.concatenate([which, over])
        a, b = np.concatenate([a, a[over] + turn]), np.concatenate([b, b[over] + turn])
    start, stop = rows.place(row[which], a), rows.place(row[which], b)
    hit = np.flatnonzero(stop > start)
    if not rows.look.front:
        hit = hit[np.argsort(which[hit], kind="stable")]
    return start[hit], stop[hit], which[hit]


def _longitudes(bands: Bands, rows: Rows, piece: Indices, row: Indices) -> tuple[Floats, Floats]:
    """Where a band runs on one side of its axis; see ``Bands``."""
    arc, side = bands.pieces.arc[piece], bands.pieces.side.astype(bands.axis.dtype)[piece]
    cosine = np.maximum(np.cos(rows.latitude), _TINY)
    tangent = (np.sin(rows.latitude) / cosine).astype(bands.axis.dtype)
    secant, level = (1 / cosine).astype(bands.axis.dtype)[row], tangent[row] * bands.slope[arc]
    near = np.arccos(np.minimum(np.maximum(bands.outer[arc] * secant - level, -1), 1))
    far = np.arccos(np.minimum(np.maximum(bands.inner[arc] * secant - level, -1), 1))
    axis = bands.axis[arc]
    a, b = axis + side * near, axis + side * far
    a, b = np.minimum(a, b), np.maximum(a, b)
    whole = np.flatnonzero(side == 0)
    a[whole], b[whole] = axis[whole] - far[whole], axis[whole] + far[whole]
    away = np.flatnonzero(np.abs(a + b) > 2 * np.pi)
    turn = 2 * np.pi * np.sign(a[away])
    a[away] -= turn
    b[away] -= turn
    return a, b


def _before_end(p: Points, arc: Indices, end: End, half: Floats) -> Flags:
    """Whether points near an end of their threads lie before it, or on its round cap."""
    return (dot(p, end.ahead[arc]) <= _TINY) | (dot(p, end.at[arc]) >= np.cos(half)[arc])


def _within(bands: Bands, rows: Rows, pairs: Pairs) -> Flags:
    """Whether the points lie on the thread, by every test there is."""
    p, a = rows.at(pairs.point), pairs.arc
    height = dot(p, bands.normal[a])
    beside = np.abs(np.arcsin(np.clip(height, -1, 1)) - bands.lean[a]) <= bands.half[a] + _TINY
    along = dot(p, bands.middle[a]) >= np.cos(bands.sweep / 2)[a] * np.sqrt(np.maximum(1 - height**2, 0)) - _TINY
    first, last = bands.pieces.first.at, bands.pieces.last.at
    cap = np.maximum(dot(p, first[a]), dot(p, last[a])) >= np.cos(bands.half)[a]
    return np.asarray(beside & (along | cap | bands.whole[a]))


def _odd_frame() -> Points:
    third = unit(np.array([0.3, 0.5, 0.81]))
    first = unit(np.cross([0.0, 1.0, 0.17], third))
    return np.array([first, np.cross(third, first), third])


_ODD = _odd_frame()
