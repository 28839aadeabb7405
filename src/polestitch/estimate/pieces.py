"""Working lengths: where each piece of thread starts and ends so that joins hide.

In: a run of rows.  Out: ``Piece`` records.

A piece ends at a bite, never in mid-span, and at the end of a row where one is near.  To be sure of
that every working length but a run's last is planned with a reserve that may be thrown away: the
longest span, or ``TRIMMED`` of the length if that is more.  So it never matters where a join falls, and
more rows never need less thread.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from math import ceil

import numpy as np
from numpy.typing import NDArray

from polestitch.estimate.handling import Handling
from polestitch.estimate.runs import Floats, Run

TRIMMED = 0.05  # share of a working length thrown away at a join; common practice, no source
# A working length is cut longer where fewer than this many of the longest spans would fit on it.
FEWEST_SPANS = 3
SAME = 1e-9  # mm


@dataclass(frozen=True)
class Spot:
    """A place in the work: laid row, and how many of its bites are done there."""

    row: int
    bite: int


@dataclass(frozen=True)
class Piece:
    """One piece of thread; ``mm`` with its ends, without what is thrown away."""

    thread: int
    start: Spot
    end: Spot
    mm: float


@dataclass(frozen=True)
class Cut:
    """A run's pieces, and all the thread they take, thrown-away remainders included."""

    pieces: tuple[Piece, ...]
    mm: float


def cut(run: Run, handling: Handling) -> Cut:
    """The run shared out over as few working lengths as always suffice."""
    need, both_ends = run.need_mm, 2 * handling.ends
    full = max(handling.working_length, both_ends + FEWEST_SPANS * run.longest_mm) - both_ends
    reserve = max(run.longest_mm, TRIMMED * handling.working_length)
    count = 1 if run.wound or need <= full else 1 + ceil((need - full) / (full - reserve))
    if count == 1:
        whole = Piece(run.thread, Spot(run.rows[0], 0), _finish(run), need + both_ends)
        return Cut((whole,), need + both_ends)
    return Cut(tuple(_pieces(run, count, full, reserve, both_ends)), need + count * both_ends + (count - 1) * reserve)


def _finish(run: Run) -> Spot:
    return Spot(run.rows[-1], len(run.cost[-1]))


@dataclass(frozen=True, eq=False)
class _Breaks:
    """Every bite of a run as a place to join: thread used up to it, and up to where the next stretch begins.

    The two differ by the way to the next row, which a join makes needless.
    """

    done: Floats
    begin: Floats
    at_row_end: NDArray[np.bool_]
    spots: tuple[Spot, ...]


def _pieces(run: Run, count: int, full: float, reserve: float, both_ends: float) -> list[Piece]:
    breaks = _breaks(run)
    joins = _joins(breaks, count, full, reserve)
    starts = [0.0, *(float(breaks.begin[k]) for k in joins)]
    ends = [*(float(breaks.done[k]) for k in joins), float(breaks.done[-1])]
    places = [Spot(run.rows[0], 0), *(breaks.spots[k] for k in joins), _finish(run)]
    return [
        Piece(run.thread, start, end, after - before + both_ends)
        for start, end, before, after in zip(places, places[1:], starts, ends)
    ]


def _breaks(run: Run) -> _Breaks:
    sizes = [len(cost) for cost in run.cost]
    row_starts = np.repeat(np.cumsum(run.way), sizes)
    done = np.cumsum(np.concatenate(run.cost)) + row_starts
    begin = np.append(done[:-1] + np.diff(row_starts), done[-1])
    last = np.zeros(len(done), dtype=bool)
    last[np.cumsum(sizes) - 1] = True
    spots = tuple(Spot(row, bite + 1) for row, size in zip(run.rows, sizes) for bite in range(size))
    return _Breaks(done, begin, last, spots)


def _joins(breaks: _Breaks, count: int, full: float, reserve: float) -> list[int]:
    """Indices of the bites after which a new piece starts, ``count - 1`` of them, spread evenly.

    Each lies where neither the piece before it nor all the pieces after it can be too long.
    """
    need, joins, before, former = float(breaks.done[-1]), [], 0.0, -1
    for k in range(1, count):
        least = need - (count - k - 1) * (full - reserve) - full
        first = max(former + 1, int(np.searchsorted(breaks.begin, least - SAME)))
        last = min(len(breaks.done) - 1, int(np.searchsorted(breaks.done, before + full + SAME)))
        window = np.arange(first, max(last, first + 1))
        row_ends = window[breaks.at_row_end[window]]
        former = _nearest(row_ends if len(row_ends) else window, breaks.done, k * need / count)
        joins.append(former)
        before = float(breaks.begin[former])
    return joins


def _nearest(candidates: NDArray[np.int64], done: Floats, target: float) -> int:
    return int(candidates[np.argmin(np.abs(done[candidates] - target))])


def lengths(cuts: Sequence[Cut], wound: Sequence[bool], working_length: float) -> int:
    """Working lengths (and pieces from the reel) that one thread's ``cuts`` take.

    A remainder is used again for the next run that fits on it whole.
    """
    count, left = 0, 0.0
    for made, from_reel in zip(cuts, wound):
        if from_reel:
            count += 1
        elif len(made.pieces) == 1 and made.mm <= left:
            left -= made.mm
        else:
            count += len(made.pieces)
            left = max(left, working_length - made.pieces[-1].mm)
    return count
