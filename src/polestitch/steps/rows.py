"""What all stitched rows share: thread, start, colours, and how each next row lies beside the one before.

In: a build and a motif.  Out: lines of instruction.
"""

from collections.abc import Hashable, Iterator, Sequence
from itertools import groupby, pairwise

import numpy as np

from polestitch.document.said import listed, near_length
from polestitch.laying.built import Stitched
from polestitch.steps.corners import corners, kinds_of, the
from polestitch.steps.step import Line
from polestitch.stitching.motifs import Motif
from polestitch.stitching.stitches import Row

LEAN = "At each {kind} lay the thread first, about {mm} beyond the former one. Take the bite where it crosses the line."
GATHER = (
    "At each {kind} carry the thread over all earlier threads. Take the bite round them all, {beside} the former one."
)
BESIDE = "Set each {kind} about {mm} {way} than the former one, so that the threads lie side by side."


def row_numbers(first: int, last: int) -> str:
    """``"Row 3"``, ``"Rows 3 and 4"``, ``"Rows 3 to 8"``."""
    if first == last:
        return f"Row {first}"
    return f"Rows {first} {'and' if last == first + 1 else 'to'} {last}"


def runs_of(keys: Sequence[Hashable]) -> Iterator[tuple[int, int]]:
    """First and last index of every run of equal keys."""
    at = 0
    for _, same in groupby(keys):
        size = len(list(same))
        yield at, at + size - 1
        at += size


def first_thread(made: Stitched, motif: Motif) -> Iterator[Line]:
    """Threading the needle, and running in."""
    maker = made.design.maker
    name, length = made.design.threads[motif.threads[0]].name, near_length(maker.working_length.mm or 0.0, maker.units)
    yield Line(f"Thread the needle with {length} of {name}. Make no knot.")
    yield Line("When a length grows short, end it at a bite, best at the end of a row. Start the next one there.")


def run_in(made: Stitched) -> str:
    """The words for running thread under the wrap to where a row starts."""
    maker = made.design.maker
    return f"Go in about {near_length(maker.ends.mm or 0.0, maker.units)} away, run the needle under the wrap"


def later_rows(made: Stitched, motif: Motif, rows: Sequence[Row]) -> Iterator[Line]:
    """Rows after the first, those worked alike in one line."""
    hows = [how(made, motif, before, row) for before, row in pairwise(rows)]
    for first, last in runs_of(hows):
        begin, end = rows[first + 1].number, rows[last + 1].number
        same = f"start and end where row {rows[0].number} did" if first == 0 else "go on as before"
        yield Line(f"{row_numbers(begin, end)}: {same}. {hows[first]}", motif.place, begin)


def how(made: Stitched, motif: Motif, before: Row, row: Row) -> str:
    """How a row lies beside the one before it, kind by kind."""
    if len(before.places) != len(row.places):
        return "It has places of its own."
    kinds = kinds_of(motif, row)
    parts = []
    for kind in dict.fromkeys(kinds):
        bites = [k for k, other in enumerate(kinds) if other == kind]
        mm = made.ball.mm(float(_apart(before, row)[bites].mean()))
        parts.append(
            _way(made, motif, row, bites[0]).format(
                kind=kind, mm=_half(made, mm), way=_side(motif, row, bites[0]), beside=_beside(before, row, bites[0])
            )
        )
    return " ".join(parts)


def _apart(before: Row, row: Row) -> np.ndarray[tuple[int], np.dtype[np.float64]]:
    return np.asarray(2 * np.arcsin(np.clip(np.linalg.norm(row.places - before.places, axis=1) / 2, 0, 1)))


def _way(made: Stitched, motif: Motif, row: Row, bite: int) -> str:
    if row.wide[bite]:
        return GATHER
    return LEAN if row.narrow[bite] else BESIDE


def _side(motif: Motif, row: Row, bite: int) -> str:
    """Which way the next row goes, seen from the middle (of a circle: from its line)."""
    if motif.site.kind == "circle":
        return "further from the line"
    if motif.site.kind == "arc":
        return "nearer to its end of the line"
    inward = row.outward[bite, 2] > 0
    return f"{'nearer to' if inward else 'further from'} {motif.place}"


def _beside(before: Row, row: Row, bite: int) -> str:
    """Where a gathering bite goes: away from the nearer pole of the motif, or toward it."""
    return "just outside" if abs(row.places[bite, 2]) <= abs(before.places[bite, 2]) else "just inside"


def _half(made: Stitched, mm: float) -> str:
    return near_length(round(2 * mm) / 2 or mm, made.design.maker.units)


def colour_lines(made: Stitched, motif: Motif) -> Iterator[Line]:
    """Which rows in which colour, and how to change."""
    names = [made.design.threads[k].name for k in motif.threads]
    said = [f"{row_numbers(motif.rows[a].number, motif.rows[b].number)} {names[a]}" for a, b in runs_of(names)]
    yield Line(f"Colours: {', '.join(said)}.".replace("Row", "row"))
    if len(set(names)) > 1:
        yield Line(
            "To change colour, end the old thread at the end of its row. Start the new one where the row starts."
        )


def last_lines(made: Stitched, motif: Motif) -> Iterator[Line]:
    """Where the last row ends up, and ending the thread."""
    last = motif.rows[-1]
    found = corners(motif, last, made.ball, made.marking)
    said = [f"each {c.kind} stands {near_length(c.mm, made.design.maker.units)} from {the(c.pin)}" for c in found[:3]]
    if motif.reaches is not None:
        yield Line(
            f"Stop after row {last.number}, which reaches as far as there is room ({motif.reaches}). "
            "If your thread lies wider or closer than planned, stop one row earlier or later."
        )
    left = _left_over(made, motif)
    yield Line(f"When row {last.number} is done, {listed(said)}.{left}", motif.place, last.number)
    yield Line(
        "End the thread after the last bite: run it under the wrap as far as you ran it in, come up, "
        "and cut it close to the ball."
    )


def _left_over(made: Stitched, motif: Motif) -> str:
    """How far the tips are from the obi, for a motif on lines that end there."""
    ends = {spoke.number: spoke.end for spoke in made.marking.spokes.get(motif.place, ())}
    row = motif.rows[-1]
    inward = bool(np.any(row.outward[~row.wide, 2] > 0)) or bool(row.wide.all())
    if motif.site.kind != "centre" or inward or not all(ends.get(spoke, "").startswith("obi") for spoke in row.spokes):
        return ""
    reach = np.array([motif.site.reaches[motif.site.numbers.index(spoke)] for spoke in row.spokes])
    rest = made.ball.mm(float((reach - np.arccos(np.clip(row.places[:, 2], -1, 1)))[~row.wide].min()))
    units = made.design.maker.units
    return f" The outermost stand {near_length(abs(rest), units)} {'short of' if rest >= 0 else 'past'} the obi."


def pattern_length(marks: Sequence[Hashable]) -> int:
    """The shortest length after which ``marks`` repeat to their end."""
    count = len(marks)
    return next(size for size in range(1, count + 1) if count % size == 0 and _repeats(marks, size))


def _repeats(marks: Sequence[Hashable], size: int) -> bool:
    return all(marks[k] == marks[k % size] for k in range(len(marks)))


def alternating_groups(names: Sequence[str]) -> list[tuple[str, int]]:
    """Names with how often each comes in a row."""
    return [(name, len(list(same))) for name, same in groupby(names)]
