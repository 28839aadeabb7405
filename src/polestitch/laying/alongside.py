"""How far every leg lies from the same leg of the row before, measured on the thread as laid.

In: ``Laid`` and a motif on it.  Out: ``Alongside``, samples along all legs that keep beside an earlier one.

Like legs are those that settling lays beside one another (``settle.leaning``).  Nothing is measured about the
bites, where both threads go into the ball, nor on legs that cross the row before by their technique.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, fields
from itertools import pairwise
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from polestitch.laying.laid import Laid
from polestitch.laying.settle import leaning
from polestitch.sphere.arcs import Angles, Points, arc_angle, dot, unit
from polestitch.stitching.motifs import Motif
from polestitch.stitching.stitches import Row

Indices = NDArray[np.intp]
# Samples along one stretch: their spacing is a thread or two, less near the bites, and gaps change over many.
FEWEST, MOST = 9, 49


@dataclass(frozen=True, eq=False)
class Alongside:
    """``n`` samples of later legs, outside the bites, in the order of their rows."""

    at: Points  # (n, 3) on the later leg
    beside: Points  # (n, 3) the nearest place of the earlier leg
    apart: Angles  # (n,) from centre line to centre line
    width: Angles  # (n,) one mean thread of both
    row: Indices  # (n,) which of the motif's rows lies there, from 0
    leg: Indices  # (n,) which stretch of a leg, counted through the motif
    length: Angles  # (n,) how much of it the sample stands for

    @property
    def bare(self) -> Angles:
        """(n,) ground between the two threads; negative where they lie on one another."""
        return np.asarray(self.apart - self.width)

    @property
    def middle(self) -> Points:
        """(n, 3) half way between the two threads."""
        return unit(self.at + self.beside)

    def __len__(self) -> int:
        return len(self.apart)

    def only(self, kept: Indices) -> "Alongside":
        """Those samples alone."""
        return Alongside(**{field.name: getattr(self, field.name)[kept] for field in fields(self)})


class _Run(NamedTuple):
    """Consecutive arcs: the first, and one past the last."""

    first: int
    past: int


class _Pair(NamedTuple):
    """One stretch of a leg and its like in the row before."""

    row: int
    later: _Run
    earlier: _Run
    width: float
    free: Sequence[float]


def alongside(laid: Laid, motif: Motif) -> Alongside:
    """All like legs of a motif measured; empty where no row leans on another."""
    rows = np.flatnonzero((laid.row_layer == motif.layer) & (laid.row_motif == motif.number - 1))
    where = dict(zip(laid.row_number[rows].tolist(), rows.tolist()))
    index = {row.number: k for k, row in enumerate(motif.rows)}
    pairs: list[_Pair] = []
    for lean in leaning(motif.rows):
        later, earlier = (_runs(laid, motif, (row, where[row.number])) for row in (lean.row, lean.before))
        width = (lean.row.pitch + lean.before.pitch) / 2
        for k in np.flatnonzero(lean.side).tolist():
            pairs.append(_Pair(index[lean.row.number], later[k], earlier[k], width, lean.free[k].tolist()))
    return _outside_bites(*_sampled(laid, pairs)) if pairs else _NOTHING


def _runs(laid: Laid, motif: Motif, which: tuple[Row, int]) -> list[_Run]:
    """The arcs of every stretch of a row, leg after leg; a leg is cut at the places it is led through."""
    row, number = which
    spans = np.searchsorted(laid.span_row, [number, number + 1])
    edges = np.searchsorted(laid.arc_span, np.arange(spans[0], spans[1] + 1)).tolist()
    legs = [_Run(first, past) for first, past in pairwise(edges)]
    if not row.via:
        return legs
    return [run for leg, via in zip(legs, row.via) for run in _cut(laid, leg, via @ motif.frame.T)]


def _cut(laid: Laid, leg: _Run, via: Points) -> Iterator[_Run]:
    """One leg's arcs, parted at the arcs that begin at ``via`` (m, 3)."""
    gaps = arc_angle(via[:, None], laid.start[leg.first : leg.past])
    for first, past in pairwise([leg.first, *(leg.first + gaps.argmin(axis=1)).tolist(), leg.past]):
        yield _Run(first, past)


def _sampled(laid: Laid, pairs: Sequence[_Pair]) -> tuple[Alongside, Angles, Angles]:
    """Samples over the whole of all later stretches; how far along the earlier one; and the free ends of each."""
    begins = np.append(0.0, np.cumsum(laid.length))
    later, earlier = (np.array(runs) for runs in zip(*((pair.later, pair.earlier) for pair in pairs)))
    width, long = np.array([pair.width for pair in pairs]), begins[later[:, 1]] - begins[later[:, 0]]
    count = np.clip(np.ceil(long / (2 * width)), FEWEST, MOST).astype(np.intp)
    pair = np.repeat(np.arange(len(pairs)), count)
    even = (np.arange(len(pair)) - np.repeat(np.cumsum(count) - count, count)) / (count - 1)[pair]
    # Closer toward the bites, where legs part or meet quickest.
    reach = begins[later[pair, 0]] + (1 - np.cos(np.pi * even)) / 2 * long[pair]
    stands_for = np.pi / 2 * np.sin(np.pi * even) * (long / (count - 1))[pair]
    arc = np.clip(np.searchsorted(begins, reach, side="right") - 1, later[pair, 0], later[pair, 1] - 1)
    at = laid.at(arc.astype(np.int32), reach - begins[arc])
    beside, along = nearest_on(laid, at, earlier[pair])
    row, free = np.array([one.row for one in pairs]), np.array([one.free for one in pairs])
    found = Alongside(at, beside, arc_angle(at, beside), width[pair], row[pair], pair, stands_for)
    return found, along - begins[earlier[pair, 0]], free


def nearest_on(laid: Laid, points: Points, runs: Indices) -> tuple[Points, Angles]:
    """For each of ``points`` (n, 3) the nearest place on its run of arcs (n, 2), and where that is along all arcs."""
    count = runs[:, 1] - runs[:, 0]
    first = np.cumsum(count) - count
    point = np.repeat(np.arange(len(points)), count)
    arc = (np.arange(len(point)) - first[point] + runs[point, 0]).astype(np.int32)
    ahead, across = dot(laid.e1[arc], points[point]), dot(laid.e2[arc], points[point])
    t = np.clip(np.arctan2(across, ahead), 0.0, laid.sweep[arc])
    nearness = np.cos(t) * ahead + np.sin(t) * across
    hits = np.flatnonzero(nearness == np.maximum.reduceat(nearness, first)[point])
    best = hits[np.unique(point[hits], return_index=True)[1]]
    begins = np.cumsum(laid.length) - laid.length
    return laid.at(arc[best], t[best]), np.asarray(begins[arc[best]] + t[best])


def _outside_bites(found: Alongside, along: Angles, free: Angles) -> Alongside:
    """Only what lies beside the earlier leg further from either end than its bites leave free."""
    ends = np.flatnonzero(np.diff(found.leg, prepend=-1, append=-1))
    low, high = along[ends[:-1]] + free[:, 0], along[ends[1:] - 1] - free[:, 1]
    kept = np.flatnonzero((along >= low[found.leg]) & (along <= high[found.leg]))
    return found.only(kept)


_NOTHING = Alongside(*(np.zeros((0, 3)),) * 2, *(np.zeros(0),) * 2, *(np.zeros(0, np.intp),) * 2, np.zeros(0))
