"""Which arcs cover which points: points in rows of latitude, and the run each arc's band cuts out of a row.

In: ``Laid`` and ``Rows`` of points.  Out: ``Pairs`` of point and arc in laying order.
A band meets a circle of latitude in an interval of longitude with a closed form, so where rows have
no height (the lines of a picture) no pair is tried in vain.
"""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from polestitch.laying.laid import Floats, Laid
from polestitch.sphere.arcs import Points, dot, unit

Indices = NDArray[np.int64]
_TINY = 1e-12


@dataclass(frozen=True, eq=False)
class Rows:
    """Points in rows about the axis ``frame[1]``, each row by rising longitude (``frame[2]`` toward ``frame[0]``).

    ``points`` are in frame coordinates.  A row holds points within ``slack`` of its latitude; 0 means exact.
    ``place(row, longitude)`` is the index of the first point of a row at or past a longitude, which may
    lie up to half a turn outside -pi to pi.  ``front``: no point lies behind the plane square to
    ``frame[2]``, so what runs there is passed over.
    """

    frame: Points  # (3, 3)
    points: Points  # (n, 3)
    latitude: Floats  # (r,) rising
    slack: float
    place: Callable[[Indices, Floats], Indices]
    front: bool = False


@dataclass(frozen=True, eq=False)
class Pairs:
    """Point ``point[k]`` is covered by the thread of arc ``arc[k]``; pairs in laying order of the arcs."""

    point: Indices
    arc: Indices


@dataclass(frozen=True, eq=False)
class _Bands:
    """The arcs in the frame of the rows; ``inner`` and ``outer``: n.x at the edges of the thread."""

    normal: Points
    e1: Points
    e2: Points
    offset: Floats
    radius: Floats
    sweep: Floats
    half: Floats
    inner: Floats
    outer: Floats
    whole: NDArray[np.bool_]

    def at(self, arc: Indices, t: Floats) -> Points:
        flat = np.cos(t)[:, None] * self.e1[arc] + np.sin(t)[:, None] * self.e2[arc]
        return np.asarray(self.offset[arc, None] * self.normal[arc] + self.radius[arc, None] * flat)


@dataclass(frozen=True, eq=False)
class _Pieces:
    """Parts of arcs that only climb or only fall.

    ``side``: +1 where longitudes are past the circle's axis, -1 before it, 0 a circle along the rows.
    A row below ``low_end`` or above ``high_end`` may see an end of the thread.
    """

    arc: Indices
    side: Floats
    low: Floats
    high: Floats
    low_end: Floats
    high_end: Floats


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
    middles = (np.arange(count) + 0.5) * step - np.pi / 2
    rows = Rows(
        _ODD, turned[order], middles, step / 2, lambda r, at: np.searchsorted(key, 8.0 * r + np.clip(at, -4, 4))
    )
    return rows, order


def covering(laid: Laid, rows: Rows) -> Pairs:
    """All pairs of a point and an arc whose thread covers it: half a pitch each side, with round ends."""
    bands = _bands(laid, rows)
    pieces = _pieces(bands, rows)
    first = np.searchsorted(rows.latitude, pieces.low)
    piece, row = _runs(first, np.searchsorted(rows.latitude, pieces.high, side="right"))
    start, stop, interval = _intervals(bands, rows, pieces, piece, row)
    piece, row = piece[interval], row[interval]
    run, point = _runs(start, stop)
    arc = pieces.arc[piece][run]
    if rows.slack > 0:
        return _within(bands, rows, point, arc, np.arange(len(point)))
    latitude = rows.latitude[row]
    ends = (latitude < pieces.low_end[piece]) | (latitude > pieces.high_end[piece])
    return _within(bands, rows, point, arc, np.flatnonzero(ends[run]))


def _runs(start: Indices, stop: Indices) -> tuple[Indices, Indices]:
    """Owner and member of every run ``start .. stop``."""
    count = np.maximum(stop - start, 0)
    owner = np.repeat(np.arange(len(count)), count)
    shift = start - np.cumsum(count) + count
    return owner, np.arange(len(owner)) + shift[owner]


def _bands(laid: Laid, rows: Rows) -> _Bands:
    turn = rows.frame.T
    half = laid.row_pitch[laid.arc_row] / 2
    lean = np.arcsin(laid.offset)
    whole = laid.sweep > 2 * np.pi - 1e-9
    edges = np.sin(lean - half), np.sin(lean + half)
    axes = laid.normal @ turn, laid.e1 @ turn, laid.e2 @ turn
    return _Bands(*axes, laid.offset, laid.radius, laid.sweep, half, *edges, whole)


def _pieces(bands: _Bands, rows: Rows) -> _Pieces:
    """Arcs, longer by their round ends, cut at their highest and lowest points and at the horizon of a front view."""
    cap = (bands.half + rows.slack) / bands.radius
    top = np.arctan2(bands.e2[:, 1], bands.e1[:, 1])
    begin = np.where(bands.whole, top, -cap)
    end = np.where(bands.whole, top + 2 * np.pi, bands.sweep + cap)
    flat = np.hypot(bands.normal[:, 0], bands.normal[:, 2]) < 1e-9
    cuts = top[:, None] + np.pi * np.arange(-2, 4)
    if rows.front:
        cuts = np.concatenate([cuts, _horizon(bands)], axis=1)
    cuts = np.where(flat[:, None], begin[:, None], cuts)
    table = np.concatenate([begin[:, None], cuts, end[:, None]], axis=1)
    table = np.sort(np.clip(table, begin[:, None], end[:, None]), axis=1)
    arc, column = np.nonzero(np.diff(table, axis=1) > _TINY)
    a, b = table[arc, column], table[arc, column + 1]
    if rows.front:
        seen = flat[arc] | (bands.at(arc, (a + b) / 2)[:, 2] > -np.sin(bands.half[arc]))
        arc, a, b = arc[seen], a[seen], b[seen]
    real = (a == begin[arc]) & ~bands.whole[arc], (b == end[arc]) & ~bands.whole[arc]
    return _placed(bands, rows, (arc, a, b), real, flat[arc])


def _horizon(bands: _Bands) -> Floats:
    """(a, 6) where each circle's thread passes out of sight, NaN-free: circles that never do give their own start."""
    x, y = bands.e1[:, 2], bands.e2[:, 2]
    level = (-np.sin(bands.half) - bands.offset * bands.normal[:, 2]) / np.maximum(bands.radius * np.hypot(x, y), _TINY)
    swing = np.arccos(np.clip(level, -1, 1))
    middle = np.arctan2(y, x)
    turns = 2 * np.pi * np.arange(-1, 2)
    return np.concatenate([(middle - swing)[:, None] + turns, (middle + swing)[:, None] + turns], axis=1)


def _placed(
    bands: _Bands,
    rows: Rows,
    part: tuple[Indices, Floats, Floats],
    real: tuple[NDArray[np.bool_], NDArray[np.bool_]],
    flat: NDArray[np.bool_],
) -> _Pieces:
    arc, a, b = part
    ya = np.arcsin(np.clip(bands.at(arc, a)[:, 1], -1, 1))
    yb = np.arcsin(np.clip(bands.at(arc, b)[:, 1], -1, 1))
    reach = bands.half[arc] + rows.slack + 1e-9
    middle, normal = bands.at(arc, (a + b) / 2), bands.normal[arc]
    side = np.where(middle[:, 0] * normal[:, 2] > middle[:, 2] * normal[:, 0], 1.0, -1.0)
    rising = ya <= yb
    low_real, high_real = np.where(rising, real[0], real[1]), np.where(rising, real[1], real[0])
    low, high = np.minimum(ya, yb), np.maximum(ya, yb)
    # The extended end lies at most two half widths from any point that feels the round end.
    low_end = np.where(low_real, low + 2 * reach, -9.0)
    high_end = np.where(high_real, high - 2 * reach, 9.0)
    end_everywhere = flat & ~bands.whole[arc]
    return _Pieces(
        arc, np.where(flat, 0.0, side), low - reach, high + reach, np.where(end_everywhere, 9.0, low_end), high_end
    )


def _intervals(
    bands: _Bands, rows: Rows, pieces: _Pieces, piece: Indices, row: Indices
) -> tuple[Indices, Indices, Indices]:
    """Runs of points, start and stop, and the (piece, row) pair each belongs to."""
    arc, side = pieces.arc[piece], pieces.side[piece]
    a, b = _longitudes(bands, rows, arc, side, rows.latitude[row])
    which = np.flatnonzero(b > a)
    if not rows.front:
        # An interval over the seam at half a turn is looked up on both sides of it.
        over = np.flatnonzero((b > np.pi) | (a < -np.pi))
        turn = np.where(b[over] > np.pi, -2 * np.pi, 2 * np.pi)
        a, b = np.concatenate([a, a[over] + turn]), np.concatenate([b, b[over] + turn])
        extra = np.concatenate([np.arange(len(piece)), over])
        which = np.argsort(extra, kind="stable")
        return (*_found(rows, row[extra[which]], a[which], b[which]), extra[which])
    start, stop = _found(rows, row[which], a[which], b[which])
    hit = stop > start
    return start[hit], stop[hit], which[hit]


def _found(rows: Rows, row: Indices, a: Floats, b: Floats) -> tuple[Indices, Indices]:
    return rows.place(row, a), rows.place(row, b)


def _longitudes(bands: _Bands, rows: Rows, arc: Indices, side: Floats, latitude: Floats) -> tuple[Floats, Floats]:
    """Where the band runs on one side of its axis: with n.x = A cos(longitude - axis) + n_y sin(latitude)."""
    nx, ny, nz = bands.normal.T
    level = ny[arc] * np.sin(latitude)
    spread = np.maximum(np.hypot(nx, nz), _TINY)[arc] * np.maximum(np.cos(latitude), _TINY)
    inner, outer = bands.inner, bands.outer
    if rows.slack > 0:
        lean = np.arcsin(bands.offset)
        inner, outer = np.sin(lean - bands.half - rows.slack), np.sin(lean + bands.half + rows.slack)
    near = np.arccos(np.clip((outer[arc] - level) / spread, -1, 1))
    far = np.arccos(np.clip((inner[arc] - level) / spread, -1, 1))
    near = np.where(side == 0, -far, near)
    axis = np.arctan2(nx, nz)[arc]
    a, b = np.where(side < 0, axis - far, axis + near), np.where(side < 0, axis - near, axis + far)
    turn = 2 * np.pi * np.round((a + b) / (4 * np.pi))
    return a - turn, b - turn


def _within(bands: _Bands, rows: Rows, point: Indices, arc: Indices, doubtful: Indices) -> Pairs:
    """The pairs without those of the ``doubtful`` ones that lie beside the thread or past its round ends."""
    p, a = rows.points[point[doubtful]], arc[doubtful]
    height = dot(p, bands.normal[a])
    ok = (height >= bands.inner[a] - _TINY) & (height <= bands.outer[a] + _TINY)
    half_sweep = bands.sweep / 2
    middle = np.cos(half_sweep)[:, None] * bands.e1 + np.sin(half_sweep)[:, None] * bands.e2
    along = dot(p, middle[a]) >= np.cos(half_sweep)[a] * np.sqrt(np.maximum(1 - height**2, 0)) - _TINY
    every = np.arange(len(bands.sweep))
    starts, ends = bands.at(every, np.zeros(len(every))), bands.at(every, bands.sweep)
    round_end = np.maximum(dot(p, starts[a]), dot(p, ends[a])) >= np.cos(bands.half[a])
    keep = np.ones(len(point), dtype=bool)
    keep[doubtful] = ok & (along | round_end | bands.whole[a])
    return Pairs(point[keep], arc[keep])


def _odd_frame() -> Points:
    third = unit(np.array([0.3, 0.5, 0.81]))
    first = unit(np.cross([0.0, 1.0, 0.17], third))
    return np.array([first, np.cross(third, first), third])


_ODD = _odd_frame()
