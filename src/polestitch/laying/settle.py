"""The line a span takes: a taut string on the ball, leaning round the tips of earlier rows.

In: the rows of one motif, in its own frame.  Out: for each row its arcs, as chains of points.

A span free of contact is the great circle from leave to next enter.  At a narrow tip the straight
way would run over the former tips of the same corner, so pegs stand beside them: at each earlier
bite's place, square to its leg, half that thread's width plus one pitch for every row since.  The
span is the shortest way from leave to enter that keeps outside the pegs.  Half a thread, not half a
bite: the tension of the next row draws the two legs of a tip together until they touch.

The shortest way round pegs is found in the gnomonic plane about the span's middle, where great
circles are straight and a taut string is a convex chain.
"""

from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np

from polestitch.sphere.arcs import Points, cross, dot, move, unit
from polestitch.stitching.stitches import Row

# A vertex where the string turns less than this lies on the straight way for all a hand can see:
# over a 2 mm step it is worth 2 micrometres.
STRAIGHT = 2e-3


@dataclass(frozen=True, eq=False)
class Settled:
    """One row's thread: ``chains[k]`` holds the (m + 1, 3) corners of span k's m great-circle arcs."""

    chains: tuple[Points, ...]


@dataclass(frozen=True, eq=False)
class _Shoulders:
    """Pegs for the next row at every corner of a strand, newest tip first: a list of (b, 3) each way."""

    leaving: tuple[Points, ...] = ()
    arriving: tuple[Points, ...] = ()


@dataclass
class _Strand:
    """The earlier rows of one strand, and how far each lies from the first, centre to centre."""

    rows: list[Row] = field(default_factory=list)
    depth: list[float] = field(default_factory=list)


def settled(rows: Sequence[Row]) -> tuple[Settled, ...]:
    """Every row's thread, each leaning on the rows of its strand before it."""
    strands: dict[int, _Strand] = {}
    return tuple(_row(row, strands.setdefault(row.strand, _Strand())) for row in rows)


def _row(row: Row, strand: _Strand) -> Settled:
    if row.turn is not None:
        return Settled(())
    gap = (strand.rows[-1].pitch + row.pitch) / 2 if strand.rows else 0.0
    depth = strand.depth[-1] + gap if strand.depth else 0.0
    shoulders = _shoulders(row, strand, depth)
    strand.rows.append(row)
    strand.depth.append(depth)
    return Settled(_chains(row, shoulders))


def _shoulders(row: Row, strand: _Strand, depth: float) -> _Shoulders:
    """Pegs beside every earlier bite; a first row leans on where its own mate lies, one step in."""
    if not strand.rows:
        inside = move(row.places, -row.outward, row.step)
        outward = move(row.outward, row.places, row.step)
        pegs = _pegs(row, (inside, outward), row.pitch / 2)
        return _Shoulders((pegs[0],), (pegs[1],))
    earlier = list(zip(strand.rows, strand.depth))[::-1]
    both = [_pegs(former, (former.places, former.outward), former.pitch / 2 + depth - lies) for former, lies in earlier]
    return _Shoulders(tuple(leave for leave, _ in both), tuple(arrive for _, arrive in both))


def _pegs(row: Row, at: tuple[Points, Points], aside: float) -> tuple[Points, Points]:
    """(b, 3) pegs ``aside`` from places on the guidelines, square to the leaving and to the arriving leg.

    ``at`` holds the places and, at each, the tangent along the guideline that way the tip steps.

    At a tip whose bites step s the leg lies at asin(pitch / s) to the guideline.
    """
    sine = np.minimum(1.0, row.pitch / np.maximum(row.step, row.pitch))[:, None]
    cosine = np.sqrt(1 - sine**2)
    places, outward = at
    leave = cosine * row.travel + sine * outward
    arrive = -cosine * row.travel + sine * outward
    return move(places, leave, aside), move(places, arrive, aside)


def _chains(row: Row, shoulders: _Shoulders) -> tuple[Points, ...]:
    """Each span over the pegs of its two corners, those of the leaving corner first."""
    after = np.roll(np.arange(len(row.half)), -1)
    leaving, arriving = shoulders.leaving, tuple(pegs[after] for pegs in reversed(shoulders.arriving))
    points = np.stack([row.leaves, *leaving, *arriving, row.enters[after]], axis=1)
    flat = _gnomonic(points, unit(points[:, 0] + points[:, -1])).tolist()
    turns, first, last = _turn_signs(row), 1 + len(leaving), points.shape[1] - 1
    chains = []
    for k, (plane, narrow, far) in enumerate(zip(flat, row.narrow, row.narrow[after])):
        met = [*(range(1, first) if narrow else ()), *(range(first, last) if far else ())]
        signs = [turns[k] if n < first else turns[after[k]] for n in met]
        chains.append(points[k][_taut(plane, [0, *met, last], signs)])
    return tuple(chains)


def _turn_signs(row: Row) -> list[float]:
    """(b,) which way the string turns round a corner's pegs: +1 left, -1 right, seen from outside."""
    left_of_leg = cross(row.places, -row.outward)
    return [1.0 if side < 0 else -1.0 for side in dot(left_of_leg, row.travel).tolist()]


def taut(start: Points, end: Points, pegs: Sequence[Points], signs: Sequence[float]) -> Points:
    """(m + 1, 3) corners of the shortest way from ``start`` to ``end`` outside ``pegs``.

    ``pegs`` are (3,) in the order the string meets them; ``signs`` says which way it turns round each.
    """
    points = np.stack([start, *pegs, end])
    flat = _gnomonic(points[None], unit(start + end)[None])[0].tolist()
    return points[_taut(flat, list(range(len(points))), signs)]


def _taut(flat: list[list[float]], met: list[int], signs: Sequence[float]) -> list[int]:
    """Indices of the corners the string keeps; ``met`` are the points in order, both ends included."""
    kept = [0]
    for k in range(1, len(met)):
        while len(kept) > 1 and not _bends(flat[met[kept[-2]]], flat[met[kept[-1]]], flat[met[k]], signs[kept[-1] - 1]):
            kept.pop()
        kept.append(k)
    return [met[k] for k in kept]


def _bends(a: list[float], b: list[float], c: list[float], sign: float) -> bool:
    ux, uy, vx, vy = b[0] - a[0], b[1] - a[1], c[0] - b[0], c[1] - b[1]
    return sign * (ux * vy - uy * vx) > STRAIGHT * abs(ux * vx + uy * vy)


def _gnomonic(points: Points, centres: Points) -> Points:
    """(b, n, 2) seen from outside each of (b, 3) centres; great circles come out straight."""
    axes = np.eye(3)[np.argmin(np.abs(centres), axis=1)]
    right = unit(cross(axes, centres))
    plane = np.stack([right, cross(centres, right)], axis=2)
    return np.asarray((points @ plane) / (points @ centres[:, :, None]))
