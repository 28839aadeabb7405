"""The line a span takes: a taut string on the ball, leaning on the same leg of the row before.

In: the rows of one motif, in its own frame.  Out: for each row its arcs, as chains of points.

The first row of a strand is taut from leave to next enter and touches nothing, but for the two legs of a
tip that run back the way they came (a spindle's): they lie one on each side of their line.  Every later leg is
the shortest way that keeps to its own side of the same leg of the row before, as that leg really lies, one
mean thread off it from centre to centre; straight where that clears it.  Only about the bites it may
come nearer: there both threads go into the ball.  One law for all corners (docs/decisions/0010).
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from polestitch.laying.beside import Legs, beside
from polestitch.sphere.arcs import Angles, Points, arc_angle, cross, dot, toward
from polestitch.stitching.stitches import Row


@dataclass(frozen=True, eq=False)
class Settled:
    """One row's thread: ``chains[k]`` holds the (m + 1, 3) corners of span k's m great-circle arcs."""

    chains: tuple[Points, ...]


@dataclass(frozen=True, eq=False)
class _Lying:
    """A row with the way of every leg, stretch by stretch between the places it is led through."""

    row: Row
    ways: tuple[Points, ...]


class Strands:
    """The rows of one motif as they are laid one after another: what the next one leans on."""

    def __init__(self) -> None:
        self._last: dict[tuple[int, tuple[int, ...]], _Lying] = {}

    def laid(self, row: Row) -> Settled:
        """The thread of the next row, beside the last row of its strand with bites on the same lines."""
        if row.turn is not None:
            return Settled(())
        strand = (row.strand, row.spokes)
        ways = _ways(row, self._last.get(strand))
        self._last[strand] = _Lying(row, ways)
        chains = tuple(_joined(row, ways))
        return Settled(chains if row.closed else chains[:-1])


def settled(rows: Sequence[Row]) -> tuple[Settled, ...]:
    """Every row's thread, each leaning on the row of its strand before it."""
    strands = Strands()
    return tuple(strands.laid(row) for row in rows)


def last_settled(rows: Sequence[Row]) -> Settled:
    """The last row's thread alone, as ``settled`` gives it; rows of other strands are not laid."""
    strands, last = Strands(), rows[-1]
    for row in rows[:-1]:
        if row.strand == last.strand and row.spokes == last.spokes:
            strands.laid(row)
    return strands.laid(last)


@dataclass(frozen=True, eq=False)
class Leaning:
    """Two rows of a strand whose ``q`` stretches lie beside each other, like by like.

    ``side`` is on which side of the earlier one the later keeps, 0 where it crosses by its technique;
    ``free`` how far from either end of the earlier one the bites let it come nearer.
    """

    before: Row
    row: Row
    side: Angles  # (q,)
    free: Angles  # (q, 2)


def leaning(rows: Sequence[Row]) -> Iterator[Leaning]:
    """Every row with the one it leans on, as ``Strands`` lays it."""
    last: dict[tuple[int, tuple[int, ...]], Row] = {}
    for row in rows:
        strand = (row.strand, row.spokes)
        before, last[strand] = last.get(strand), row
        if before is None or row.turn is not None or row.up is not None or sum(_counts(before)) != sum(_counts(row)):
            continue
        legs = sum(_counts(row)) - (0 if row.closed else _counts(row)[-1])
        yield Leaning(before, row, _sides(row)[:legs], _free(before, row)[:legs])


def _ways(row: Row, before: _Lying | None) -> tuple[Points, ...]:
    starts, ends = _stops(row)
    legs = Legs(starts, ends, _sides(row), _free(before.row if before else row, row))
    # Separate strokes come up where their technique says; they lean on nothing.
    if row.up is None and before is not None and len(before.ways) == len(starts):
        return beside(legs, before.ways, (before.row.pitch + row.pitch) / 2)
    if row.up is None and len(starts) == len(row.half) and (twins := _twins(row)).any():
        lines = np.stack([row.places, np.roll(row.places, -1, axis=0)], axis=1)
        return beside(replace(legs, side=np.where(twins, legs.side, 0.0)), tuple(lines), row.pitch / 2)
    return tuple(np.stack([starts, ends], axis=1))


def _twins(row: Row) -> NDArray[np.bool_]:
    """(b,) legs that turn straight back at either end: from there they would lie on their own twin."""
    ahead, back = np.roll(row.places, -1, axis=0), np.roll(row.places, 1, axis=0)
    length = arc_angle(row.places, ahead)
    apart = arc_angle(toward(row.places, ahead), toward(row.places, back))
    turned = apart < row.pitch / np.minimum(length, np.roll(length, 1))
    return np.asarray(turned | np.roll(turned, -1))


def _stops(row: Row) -> tuple[Points, Points]:
    """(q, 3) starts and ends of all stretches: leave to enter, by way of the places a leg is led through."""
    enters = _following(row.enters)
    if not row.via:
        return row.leaves, enters
    starts = [np.concatenate([leave[None], via]) for leave, via in zip(row.leaves, row.via)]
    ends = [np.concatenate([via, enter[None]]) for enter, via in zip(enters, row.via)]
    return np.concatenate(starts), np.concatenate(ends)


def _joined(row: Row, ways: Sequence[Points]) -> Iterator[Points]:
    """The corners of each leg from those of its stretches."""
    if not row.via:
        yield from ways
        return
    first = 0
    for count in _counts(row):
        yield np.concatenate([ways[first], *(way[1:] for way in ways[first + 1 : first + count])])
        first += count


def _counts(row: Row) -> list[int]:
    """How many stretches each leg has."""
    return [len(via) + 1 for via in row.via] if row.via else [1] * len(row.half)


def _sides(row: Row) -> Angles:
    """(q,) on which side of the row before each stretch lies: +1 left as it runs, -1 right, 0 on neither.

    A tip's leaving leg lies to the side the work travels, seen with the tip's own way back; a stretch
    between two places without bites keeps to no side, and a leg whose two ends ask for opposite sides
    crosses the row before.
    """
    back = dot(cross(row.places, -row.outward), row.travel)
    leaving = np.where(back < 0, -1.0, 1.0)
    arriving = _following(leaving)
    if not row.via:
        return np.where(leaving == arriving, leaving, 0.0)
    first = np.cumsum([0, *_counts(row)])
    sides = np.zeros(first[-1])
    sides[first[:-1]] = leaving
    sides[first[1:] - 1] = arriving
    alone = np.diff(first) == 1
    sides[first[:-1][alone]] = np.where(leaving == arriving, leaving, 0.0)[alone]
    return sides


def _free(before: Row, row: Row) -> Angles:
    """(q, 2) how far from its ends a stretch may come nearer: half a bite and half a thread.

    Where a bite gathers earlier legs it is as wide as they are, and the legs lie side by side up to it.
    """
    bite = np.maximum(np.where(row.wide, 0.0, np.abs(row.half)), np.where(before.wide, 0.0, np.abs(before.half)))
    thread = max(before.pitch, row.pitch) / 2
    if not row.via:
        return np.stack([bite, _following(bite)], axis=1) + thread
    first = np.cumsum([0, *_counts(row)])
    free = np.full((first[-1], 2), thread)
    free[first[:-1], 0] += bite
    free[first[1:] - 1, 1] += _following(bite)
    return free


def _following(each: Angles) -> Angles:
    """What stands at the next bite, for every bite of a closed row."""
    return np.concatenate([each[1:], each[:1]])
