"""Steps of a motif worked in separate strokes: hemp leaf, pine needle, ties, knots, a swirl's rounds.

In: a build and one motif.  Out: lines of instruction.
"""

from collections.abc import Iterator

import numpy as np

from polestitch.document.said import listed, near_length, set_length
from polestitch.laying.built import Stitched
from polestitch.laying.settle import settled
from polestitch.sphere.arcs import arc_angle
from polestitch.steps.corners import SAME_MM, arc_end, the
from polestitch.steps.roaming import own_words
from polestitch.steps.rows import colour_lines, first_thread, row_numbers, run_in, runs_of
from polestitch.steps.step import Line
from polestitch.stitching.motifs import Motif


def stroke_lines(made: Stitched, motif: Motif) -> Iterator[Line]:
    """How it is worked, in the technique's words, and what each row has: how many strokes, how long."""
    yield from (Line(words, motif.place) for words in own_words(made, motif))
    yield from colour_lines(made, motif)
    yield from first_thread(made, motif)
    yield Line(f"{run_in(made)}, and come up {_start(made, motif)}.", motif.place, 1)
    lengths = _lengths(made, motif)
    for first, last in runs_of([len(row.half) for row in motif.rows]):
        rows = row_numbers(motif.rows[first].number, motif.rows[last].number)
        said = _rows_said(made, lengths[first : last + 1], _piece(made, motif, first))
        yield Line(f"{rows}: {said}.", motif.place, motif.rows[first].number)
    yield Line("End the thread: run it under the wrap as far as you ran it in, come up, and cut it close to the ball.")


def _start(made: Stitched, motif: Motif) -> str:
    """Where the first stroke comes up, from the middle of the place or from its line."""
    up = motif.rows[0].leaves[0]
    if motif.site.kind == "circle":
        mm = made.ball.mm(abs(float(np.arcsin(np.clip(up[2], -1, 1)))))
        near = f"at its first tie or mark, {set_length(mm, made.design.maker.units)} off the line"
        return near if mm >= SAME_MM else "on the line, beside its first crossing"
    mm = made.ball.mm(float(arc_angle(np.array([0.0, 0.0, 1.0]), up)))
    end = arc_end(motif, 0, made.marking) if motif.site.kind == "arc" else None
    if end is not None:
        return f"{set_length(made.ball.mm(float(motif.site.reaches[0])) - mm, made.design.maker.units)} from {end}"
    middle = motif.place if motif.site.kind == "centre" else f"the middle of {the(motif.place)}"
    if mm < SAME_MM:
        return f"at {middle}"
    return f"{set_length(mm, made.design.maker.units)} from {middle}, toward line {motif.site.numbers[0]}"


def _lengths(made: Stitched, motif: Motif) -> list[list[float]]:
    """For each row the lengths of its strokes in mm, along the thread."""
    return [
        [made.ball.mm(float(arc_angle(chain[:-1], chain[1:]).sum())) for chain in thread.chains]
        for thread in settled(motif.rows)
    ]


def _piece(made: Stitched, motif: Motif, row: int) -> str:
    """What a maker calls one piece of the row: a wheel's later rows are rounds, and a knot is a knot."""
    technique = made.design.layers[motif.layer].technique
    if technique == "woven_wheel" and row:
        return "round"
    return "knot" if technique == "french_knot" else "stroke"


def _rows_said(made: Stitched, lengths: list[list[float]], piece: str) -> str:
    """Rows with equally many strokes: what each has, or how their strokes change from the first row to the last."""
    said = [_row_said(made, row, piece) for row in lengths]
    if len(set(said)) == 1:
        return said[0] + (" in each" if len(said) > 1 else "")
    first, last = (near_length(float(np.mean(row)), made.design.maker.units) for row in (lengths[0], lengths[-1]))
    count = len(lengths[0])
    if first == last:
        return f"{_counted(count, piece)} in each, about {first} long on average"
    return f"{_counted(count, piece)} in each, about {first} long in the first row and about {last} in the last"


def _row_said(made: Stitched, lengths: list[float], piece: str) -> str:
    """As in "8 strokes about 12 mm long and 8 strokes about 20 mm long"; of many lengths, shortest and longest."""
    if piece == "knot":  # its length is thread in a coil, which nobody measures
        return _counted(len(lengths), piece)
    units = made.design.maker.units
    found: list[tuple[str, int]] = []
    for mm in lengths:
        size = near_length(round(2 * mm) / 2 or mm, units)
        known = next((k for k, (other, _) in enumerate(found) if other == size), None)
        if known is None:
            found.append((size, 1))
        else:
            found[known] = (size, found[known][1] + 1)
    if len(found) > 3:
        shortest, longest = (near_length(f(lengths), units) for f in (min, max))
        return f"{_counted(len(lengths), piece)}, from about {shortest} to about {longest} long"
    parts = [f"{_counted(count, piece)} about {size} long" for size, count in found]
    return listed(parts)


def _counted(count: int, piece: str) -> str:
    return f"{count} {piece}{'s' * (count != 1)}"
