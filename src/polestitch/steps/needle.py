"""Steps that say where the needle passes under what, leg by leg.

In: a build and a layer's index.  Out: lines of instruction.
"""

from collections.abc import Iterator, Sequence
from itertools import groupby

import numpy as np

from polestitch.document.said import listed
from polestitch.laying.built import Stitched
from polestitch.laying.needle import Meeting, meetings, rows_under
from polestitch.steps.corners import the
from polestitch.steps.step import Line
from polestitch.stitching.motifs import Motif

MOST_WAYS = 3  # ways that rows of one motif differ, told in full
MOST_PLACES = 64
AT_A_TIME = 3  # meetings told in one breath
Told = tuple[tuple[int, tuple[Meeting, ...]], ...]  # row number, what it meets


def needle_lines(made: Stitched, layer: int) -> Iterator[Line]:
    """For every motif whose needle passes under earlier thread, on which leg and under what."""
    rows = rows_under(made.laid, made.crossings, made.over, _with_itself(made, layer))
    rows = rows[made.laid.row_layer[rows] == layer]
    if not len(rows):
        return
    yield Line(
        "Pass the needle eye first, so that its point catches nothing. "
        "Slide it back and forth before you pull, to be sure it has caught no thread of the wrap."
    )
    motifs = [motif for motif in made.motifs if motif.layer == layer]
    under = np.unique(made.laid.row_motif[rows]).tolist()
    for number in under[:MOST_PLACES]:
        yield from _motif_lines(made, motifs[number], rows[made.laid.row_motif[rows] == number].tolist(), len(motifs))
    if len(under) > MOST_PLACES:
        yield Line(f"Go on like this at the other {len(under) - MOST_PLACES} places.")


def _with_itself(made: Stitched, layer: int) -> bool:
    """Whether the layer's only motif is ruled to go under itself; else its technique tells how it crosses itself."""
    entry = made.design.layers[layer]
    alone = sum(motif.layer == layer for motif in made.motifs) == 1
    return alone and any(under.layer == entry.name for under in entry.under)


def _motif_lines(made: Stitched, motif: Motif, rows: Sequence[int], places: int) -> Iterator[Line]:
    """One line for the rows of a motif that go alike, and one for each way they differ."""
    laid = made.laid
    own = _with_itself(made, motif.layer)
    met = [(int(laid.row_number[row]), meetings(laid, made.crossings, made.over, row, own)) for row in rows]
    ways = [tuple(same) for _, same in groupby(met, key=lambda told: _way(told[1]))]
    for way in ways[:MOST_WAYS]:
        at = f"At {the(motif.place)}, " if places > 1 else ""
        text = f"{at}{_rows_said(way, len(motif.rows))}: {_legs_said(made, motif, way)}."
        yield Line(text[0].upper() + text[1:], motif.place, way[0][0])
    if len(ways) > MOST_WAYS:
        number = ways[MOST_WAYS][0][0]
        yield Line(f"From row {number} on keep to the same rule, thread by thread.", motif.place, number)


def _way(met: Sequence[Meeting]) -> tuple[tuple[int, bool, int, int], ...]:
    """What two rows must share to be told as one: all but how many threads they meet."""
    return tuple((one.leg, one.under, one.layer, one.motif) for one in met)


def _rows_said(way: Told, rows: int) -> str:
    numbers = [number for number, _ in way]
    if len(numbers) == rows and rows > 1:
        return "in every row"
    if len(numbers) == 1:
        return f"in row {numbers[0]}"
    if numbers == list(range(numbers[0], numbers[-1] + 1)):
        return f"in rows {numbers[0]} to {numbers[-1]}"
    return f"in rows {listed([str(number) for number in numbers])}"


def _legs_said(made: Stitched, motif: Motif, way: Told) -> str:
    counts = [tuple(one.threads for one in met) for _, met in way]
    steady = len(set(counts)) == 1
    legs = []
    for leg, met in groupby(way[0][1], key=lambda one: one.leg):
        told = [_meeting_said(made, motif, one, steady) for one in met]
        breaths = [", ".join(told[k : k + AT_A_TIME]) for k in range(0, len(told), AT_A_TIME)]
        legs.append(f"{_leg_said(motif, leg)} {'; then '.join(breaths)}")
    return "; ".join(legs)


def _leg_said(motif: Motif, leg: int) -> str:
    """Between which lines a leg runs, or how many bites lie before it."""
    row = motif.rows[0]
    if row.turn is not None:
        return "on the way round"
    spokes = row.spokes
    if motif.site.kind == "centre" and len(spokes) > 1 and leg < len(spokes):
        return f"from line {spokes[leg]} to line {spokes[(leg + 1) % len(spokes)]}"
    return f"after bite {leg}" if leg else "after the start"


def _meeting_said(made: Stitched, motif: Motif, one: Meeting, steady: bool) -> str:
    place = next(motif.place for motif in made.motifs if (motif.layer, motif.number) == (one.layer, one.motif + 1))
    count = f"{one.threads} thread{'' if one.threads == 1 else 's'}" if steady else "the threads"
    name = "" if one.layer == motif.layer else f" of {made.design.layers[one.layer].name}"
    return f"{'under' if one.under else 'over'} {count}{name} at {the(place)}"
