"""The top thread: which one is on top at each point of the ball.

In: ``Laid``, points, and where crossings go against the laying order.  Out: ``Top``.
Coverage, pictures and charts all ask this one question.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from polestitch.laying.crossings import Crossings
from polestitch.laying.laid import Floats, Ints, Laid
from polestitch.laying.pieces import Bands, bands_of
from polestitch.laying.scan import Indices, Pairs, Rows, covering, rows_of
from polestitch.sphere.arcs import Points, dot, unit


@dataclass(frozen=True, eq=False)
class Reversals:
    """Crossings of spans that have somewhere an earlier one on top; the later one is on top elsewhere.

    ``under[k]``: at ``at[k]`` the later span goes under the earlier.  All crossings of such a pair are
    listed, so that the nearest one decides.
    """

    code: Indices  # (k,) rising: earlier span * spans + later span
    at: Points  # (k, 3)
    under: NDArray[np.bool_]  # (k,)
    flagged: NDArray[np.bool_]  # (s,) spans with a reversal
    spans: int


@dataclass(frozen=True, eq=False)
class Top:
    """What is on top at each of n points; where ``arc`` is -1 the ground shows and the rest is zero."""

    arc: Ints  # (n,)
    offset: Floats  # (n,) sideways from the thread's middle, share of half its width, + toward the arc's normal
    along: Floats  # (n,) radians on the ball from the arc's start
    direction: Points  # (n, 3) unit vector the way the thread runs
    layers: Ints  # (n,) how many threads lie here


def reversals(met: Crossings, over: NDArray[np.bool_]) -> Reversals | None:
    """Where crossings go against the laying order, ``over[k]`` meaning the later thread on top; None if nowhere."""
    if over.all():
        return None
    laid = met.laid
    first, second = laid.arc_span[met.first].astype(np.int64), laid.arc_span[met.second].astype(np.int64)
    spans = len(laid.span_row)
    code = first * spans + second
    kept = np.flatnonzero(np.isin(code, code[~over]))
    kept = kept[np.argsort(code[kept], kind="stable")]
    flagged = np.zeros(spans, dtype=bool)
    flagged[first[~over]] = True
    flagged[second[~over]] = True
    return Reversals(code[kept], met.point[kept], ~over[kept], flagged, spans)


def top(laid: Laid, points: Points, reversed_at: Reversals | None = None) -> Top:
    """The top thread at each of ``points`` (n, 3), unit vectors."""
    widest = float(laid.row_pitch.max(initial=1e-3))
    rows, order = rows_of(points, widest / 2)
    arc, layers = top_arcs(laid, bands_of(laid, rows.look), rows, reversed_at)
    place = np.empty_like(order)
    place[order] = np.arange(len(order))
    arc, layers = arc[place], layers[place]
    on = np.flatnonzero(arc >= 0)
    hit, p = arc[on], points[on]
    height = dot(p, laid.normal[hit])
    offset, along, direction = np.zeros(len(arc)), np.zeros(len(arc)), np.zeros((len(arc), 3))
    half = laid.row_pitch[laid.arc_row[hit]] / 2
    offset[on] = np.clip((np.arcsin(np.clip(height, -1, 1)) - np.arcsin(laid.offset[hit])) / half, -1, 1)
    along[on] = along_arc(laid, hit, p)
    direction[on] = unit(np.cross(laid.normal[hit], p))
    return Top(arc, offset, along, direction, layers)


def along_arc(laid: Laid, arc: Ints, points: Points) -> Floats:
    """(k,) radians on the ball from the start of ``arc`` (k,) to beside ``points`` (k, 3); below 0 on its first end."""
    t = laid.t_of(arc, points)
    past = (t - laid.sweep[arc]) > (2 * np.pi - laid.sweep[arc]) / 2
    return np.asarray(laid.radius[arc] * np.where(past, t - 2 * np.pi, t))


def top_arcs(laid: Laid, bands: Bands, rows: Rows, reversed_at: Reversals | None = None) -> tuple[Ints, Ints]:
    """(n,) top arc, or -1, and (n,) number of threads at each point of ``rows``; ``bands`` are those of ``laid``."""
    pairs = covering(bands, rows)
    arc = np.full(rows.count + 1, -1, dtype=np.int32)
    # A repeated index keeps the last value, and the pairs come in laying order.
    arc[pairs.point] = pairs.arc
    if reversed_at is not None:
        _turn_over(laid, rows, pairs, reversed_at, arc)
    layers = np.bincount(pairs.point, minlength=rows.count + 1)
    return arc[:-1], layers[:-1].astype(np.int32)


def _turn_over(laid: Laid, rows: Rows, pairs: Pairs, reversed_at: Reversals, arc: Ints) -> None:
    """Settle anew the points where two flagged threads meet.

    Each later thread meets the best of the earlier ones.  Whoever is over all others at the point
    wins in whatever order they meet, so over and under may go in a circle elsewhere on the ball.
    """
    point, candidate = _contested(laid, pairs, reversed_at, rows.count)
    if not len(point):
        return
    first = np.flatnonzero(np.diff(point, prepend=-1))
    count = np.diff(first, append=len(point))
    best = candidate[first]
    for rank in range(1, int(count.max())):
        live = np.flatnonzero(count > rank)
        rival = candidate[first[live] + rank]
        places = rows.at(point[first[live]]) @ rows.look.frame
        stays = _earlier_on_top(laid, reversed_at, best[live], rival, places)
        best[live] = np.where(stays, best[live], rival)
    arc[point[first]] = best


def _contested(laid: Laid, pairs: Pairs, reversed_at: Reversals, points: int) -> tuple[Indices, Indices]:
    """Points with two flagged threads and all the arcs there, by point and laying order."""
    flagged = pairs.point[reversed_at.flagged[laid.arc_span[pairs.arc]]]
    contested = np.bincount(flagged, minlength=points + 1) > 1
    contested[points] = False
    kept = np.flatnonzero(contested[pairs.point])
    point = pairs.point[kept]
    order = np.argsort(point, kind="stable")
    return point[order], pairs.arc[kept][order]


def _earlier_on_top(laid: Laid, reversed_at: Reversals, a: Indices, b: Indices, places: Points) -> NDArray[np.bool_]:
    """(k,) whether ``a`` is over the later ``b``: the nearest crossing of their spans decides, if they are listed."""
    code = laid.arc_span[a].astype(np.int64) * reversed_at.spans + laid.arc_span[b]
    low, high = np.searchsorted(reversed_at.code, code), np.searchsorted(reversed_at.code, code, side="right")
    listed = np.flatnonzero(high > low)
    nearest, under = np.full(len(listed), -2.0), np.zeros(len(listed), dtype=bool)
    low, high, places = low[listed], high[listed], places[listed]
    for k in range(int((high - low).max(initial=0))):
        row = np.minimum(low + k, high - 1)
        near = dot(reversed_at.at[row], places)
        under = np.where(near > nearest, reversed_at.under[row], under)
        nearest = np.maximum(near, nearest)
    stays = np.zeros(len(code), dtype=bool)
    stays[listed] = under
    return stays
