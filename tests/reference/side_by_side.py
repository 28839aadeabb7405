"""Rows beside rows, measured on nothing but what ``polestitch thread DESIGN --json`` prints.

In: the printed data.  Out: for every pair of neighbouring rows how near their like legs come outside the
bites, and how far apart in mid-leg, on the mean of its middle half: both in pitches, centre to centre over
(p1 + p2) / 2.
``python -m tests.reference.side_by_side DESIGN…`` prints the table of mid-leg gaps, rows 1 to 2 first; a
DESIGN is a file, or the name of a family of patterns, "star-ball" or "star-ball@27.3cm".
"""

import contextlib
import io
import json
import sys
import tempfile
from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from itertools import pairwise
from pathlib import Path
from typing import Any, NamedTuple

import numpy as np
from numpy.typing import NDArray

from polestitch.cli.app import exit_status

Points = NDArray[np.float64]
Thread = Mapping[str, Any]
Leg = Mapping[str, Any]
Whose = tuple[str, str, int]
FINE = 0.25  # of a pitch: how far apart the later leg's points are asked


class Pair(NamedTuple):
    """Like legs of two neighbouring rows; distances in pitches, ``nearest`` infinite where a bite is everywhere."""

    layer: str
    motif: str
    strand: int
    earlier: int  # rows
    later: int
    leg: int
    nearest: float
    middle: float
    crosses: bool  # it lies on one side of the earlier leg here and on the other there, outside the bites


class Side(NamedTuple):
    """Two legs, or two rows with all their legs: the nearest, the mean in mid-leg, and whether any crosses."""

    nearest: float
    middle: float
    crosses: bool


def printed(*arguments: str) -> str:
    """What a command prints; ``AssertionError`` with its sentence where it fails."""
    out, err = io.StringIO(), io.StringIO()
    with contextlib.redirect_stdout(out), contextlib.redirect_stderr(err):
        status = exit_status(arguments)
    assert status == 0, err.getvalue()
    return out.getvalue()


def thread_of(design: str) -> dict[str, Any]:
    """The thread of a design file, or of a family's starter."""
    with tempfile.TemporaryDirectory() as folder:
        path = design
        if not Path(design).is_file():
            family, _, around = design.partition("@")
            path = str(Path(folder) / "starter.json")
            printed("new", family, *(("--around", around) if around else ()), "-o", path)
        thread: dict[str, Any] = json.loads(printed("thread", path, "--json"))
        return thread


def pairs(thread: Thread) -> Iterator[Pair]:
    """Like legs (same number) of every row and the row of its strand before it, if both have as many legs."""
    radius, bites = thread["ball"]["radius_mm"], bites_of(thread)
    for (layer, motif, strand), rows in strands_of(thread).items():
        for one, two in pairwise(sorted(rows)):
            ends = [_halves(bites[layer, motif, row], len(rows[row])) for row in (one, two)]
            for k in range(len(rows[one]) if len(rows[one]) == len(rows[two]) else 0):
                gap = apart((rows[one][k], rows[two][k]), (ends[0][k], ends[1][k]), radius)
                yield Pair(layer, motif, strand, one, two, k + 1, *gap)


def strands_of(thread: Thread) -> dict[tuple[str, str, int], dict[int, list[Leg]]]:
    """The legs of every row, by layer, motif and strand."""
    found: dict[tuple[str, str, int], dict[int, list[Leg]]] = defaultdict(lambda: defaultdict(list))
    for leg in thread["legs"]:
        found[leg["layer"], leg["motif"], leg["strand"]][leg["row"]].append(leg)
    return found


def bites_of(thread: Thread) -> dict[Whose, list[Mapping[str, Any]]]:
    """The bites of every row in visiting order."""
    found: dict[Whose, list[Mapping[str, Any]]] = defaultdict(list)
    for bite in thread["bites"]:
        found[bite["layer"], bite["motif"], bite["row"]].append(bite)
    return found


def _halves(bites: Sequence[Mapping[str, Any]], legs: int) -> list[tuple[float, float]]:
    """Half widths of the bites at both ends of every leg; a wound turn has none, so none of it is left out."""
    if not bites:
        return [(-np.inf, -np.inf)] * legs
    half = [bite["half_mm"] for bite in bites]
    return [(half[k], half[(k + 1) % len(half)]) for k in range(legs)]


def apart(legs: tuple[Leg, Leg], halves: Sequence[tuple[float, float]], radius_mm: float) -> Side:
    """How far the later of two legs keeps from the earlier one, in pitches."""
    pitch = (legs[0]["pitch_mm"] + legs[1]["pitch_mm"]) / 2
    earlier, later = (radius_mm * np.array(leg["points"]) for leg in legs)
    asked = finely(later, FINE * pitch)
    outside = np.ones(len(asked), dtype=bool)
    for line, half in zip((earlier, later), halves):
        for end, bite in zip((line[0], line[-1]), half):
            outside &= np.linalg.norm(asked - end, axis=1) > bite + pitch
    signed = distances(asked, earlier) / pitch
    off, quarter = np.abs(signed), len(signed) // 4
    mid = float(off[quarter : len(off) - quarter].mean())
    both = bool(signed[outside].min(initial=np.inf) < 0 < signed[outside].max(initial=-np.inf))
    return Side(float(off[outside].min(initial=np.inf)), mid, both)


def finely(line: Points, most: float) -> Points:
    """The line (n, 3) with points on the ball between its own, nowhere farther than ``most`` apart."""
    radius = np.linalg.norm(line[0])
    parts = np.maximum(1, np.ceil(np.linalg.norm(np.diff(line, axis=0), axis=1) / most)).astype(int)
    k = np.repeat(np.arange(len(parts)), parts)
    share = ((np.arange(len(k)) - np.repeat(np.cumsum(parts) - parts, parts)) / parts[k])[:, None]
    between = np.concatenate([(1 - share) * line[k] + share * line[k + 1], line[-1:]])
    return np.asarray(between * (radius / np.linalg.norm(between, axis=1))[:, None])


def distances(points: Points, line: Points) -> NDArray[np.float64]:
    """(k,) mm from each point (k, 3) to the nearest of the chords of ``line`` (n, 3), below 0 to the right of it.

    Chords lie 0.01 mm deep at most, square to the way measured: on a gap of 0.7 mm that is 0.0001 mm.
    """
    start, way = line[:-1], np.diff(line, axis=0)
    square = np.maximum(np.einsum("ni,ni->n", way, way), 1e-18)
    from_start = points[:, None] - start
    share = np.clip(np.einsum("kni,ni->kn", from_start, way) / square, 0, 1)
    off = from_start - share[..., None] * way
    each = np.einsum("kni,kni->kn", off, off)
    chord = each.argmin(axis=1)
    left = np.einsum("ki,ki->k", np.cross(start, start + way)[chord], points)
    return np.asarray(np.copysign(np.sqrt(each[np.arange(len(points)), chord]), left))


def sides(found: Sequence[Pair]) -> dict[tuple[str, int], dict[int, Side]]:
    """By layer and strand, and by the later row: its motifs and legs together."""
    legs: dict[tuple[str, int], dict[int, list[Pair]]] = defaultdict(lambda: defaultdict(list))
    for pair in found:
        legs[pair.layer, pair.strand][pair.later].append(pair)
    return {
        whose: {
            row: Side(
                min(pair.nearest for pair in one),
                float(np.mean([pair.middle for pair in one])),
                any(pair.crosses for pair in one),
            )
            for row, one in sorted(rows.items())
        }
        for whose, rows in legs.items()
    }


def table(designs: Sequence[str]) -> Iterator[str]:
    """A line for each strand of each design."""
    yield "| ball | strand | nearest | mean gap in mid-leg, in pitches, row 1 to 2 first |"
    yield "|---|---|---|---|"
    for design in designs:
        thread = thread_of(design)
        stitched = {bite["layer"] for bite in thread["bites"]}
        # Wound turns lie by turns on either side of their line, so the one before is no neighbour.
        found = [pair for pair in pairs(thread) if pair.layer in stitched]
        for (layer, strand), rows in sides(found).items():
            middles = " ".join(f"{side.middle:.2f}" for side in rows.values())
            nearest = min(side.nearest for side in rows.values())
            yield f"| {Path(design).stem} | {layer} {strand} | {nearest:.2f} | {middles} |"


if __name__ == "__main__":
    for line in table(sys.argv[1:]):
        sys.stdout.write(line + "\n")
