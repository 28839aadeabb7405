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

from polestitch.sphere.arcs import Angles, Points, cross, dot, move, unit
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
    """Pegs for a row's (b,) corners: (b, n, 3) beside leaving and arriving legs, newest tip first."""

    leaving: Points
    arriving: Points


@dataclass
class _Strand:
    """The earlier rows of one strand, newest first, and how far each lies from the first, centre to centre."""

    rows: list[Row] = field(default_factory=list)
    depth: list[float] = field(default_factory=list)


def settled(rows: Sequence[Row]) -> tuple[Settled, ...]:
    """Every row's thread, each leaning on the rows of its strand before it."""
    strands: dict[int, _Strand] = {}
    return tuple(_row(row, strands.setdefault(row.strand, _Strand())) for row in rows)


def last_settled(rows: Sequence[Row]) -> Settled:
    """The last row's thread alone, as ``settled`` gives it."""
    strand = _Strand()
    for row in rows[:-1]:
        if row.strand == rows[-1].strand and row.turn is None:
            _remembered(row, strand)
    return _row(rows[-1], strand)


def _row(row: Row, strand: _Strand) -> Settled:
    if row.turn is not None:
        return Settled(())
    depth = _depth(row, strand)
    chains = _leaning(row, _shoulders(row, strand, depth)) if row.narrow.any() else _straight(row)
    _remembered(row, strand)
    return Settled(chains)


def _depth(row: Row, strand: _Strand) -> float:
    """How far the row lies from the strand's first, centre to centre."""
    return strand.depth[0] + (strand.rows[0].pitch + row.pitch) / 2 if strand.rows else 0.0


def _remembered(row: Row, strand: _Strand) -> None:
    depth = _depth(row, strand)
    strand.rows.insert(0, row)
    strand.depth.insert(0, depth)


def _shoulders(row: Row, strand: _Strand, depth: float) -> _Shoulders:
    """Pegs beside every earlier bite; a first row leans on where its own mate lies, one step in."""
    if not strand.rows:
        inside = move(row.places, -row.outward, row.step)
        outward = move(row.outward, row.places, row.step)
        return _pegs([row], (inside[:, None], outward[:, None]), np.array([row.pitch / 2]))
    places = np.stack([former.places for former in strand.rows], axis=1)
    outward = np.stack([former.outward for former in strand.rows], axis=1)
    aside = [former.pitch / 2 + depth - lies for former, lies in zip(strand.rows, strand.depth)]
    return _pegs(strand.rows, (places, outward), np.array(aside))


def _pegs(rows: Sequence[Row], at: tuple[Points, Points], aside: Angles) -> _Shoulders:
    """Pegs ``aside`` (n,) from places on the guidelines, square to the leaving and to the arriving leg.

    ``at`` holds the places (b, n, 3) and, at each, the tangent along the guideline that way the tip
    steps.  At a tip whose bites step s the leg lies at asin(pitch / s) to the guideline.
    """
    places, outward = at
    travel = np.stack([row.travel for row in rows], axis=1)
    sine = np.stack([np.minimum(1.0, row.pitch / np.maximum(row.step, row.pitch)) for row in rows], axis=1)[..., None]
    sideways = np.sqrt(1 - sine**2) * travel
    leaving, arriving = sideways + sine * outward, -sideways + sine * outward
    return _Shoulders(move(places, leaving, aside), move(places, arriving, aside))


def _straight(row: Row) -> tuple[Points, ...]:
    return tuple(np.stack([row.leaves, np.roll(row.enters, -1, axis=0)], axis=1))


def _leaning(row: Row, shoulders: _Shoulders) -> tuple[Points, ...]:
    """Each span over the pegs of its two corners, those of the leaving corner first."""
    after = np.roll(np.arange(len(row.half)), -1)
    arriving = shoulders.arriving[after, ::-1]
    points = np.concatenate([row.leaves[:, None], shoulders.leaving, arriving, row.enters[after, None]], axis=1)
    flat = _gnomonic(points, unit(points[:, 0] + points[:, -1])).tolist()
    turns, first, last = _turn_signs(row), 1 + shoulders.leaving.shape[1], points.shape[1] - 1
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
