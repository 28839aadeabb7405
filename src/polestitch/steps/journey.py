"""Steps of a thread that travels: her own path spot by spot, or one stroke star by star.

In: a build and one motif.  Out: lines of instruction.
"""

from collections.abc import Iterator, Sequence
from typing import Any

from polestitch.laying.built import Stitched
from polestitch.steps.hands import hand_of
from polestitch.steps.roaming import own_words
from polestitch.steps.rows import colour_lines, first_thread, later_rows, run_in
from polestitch.steps.step import Line
from polestitch.stitching.motifs import Motif
from polestitch.stitching.technique import params, technique


def travels(made: Stitched, motif: Motif) -> bool:
    """Whether the technique tells its route itself."""
    return hasattr(technique(made.design.layers[motif.layer].technique), "route")


def journey_lines(made: Stitched, motif: Motif) -> Iterator[Line]:
    """The technique's own words, its route, and how later rows lie."""
    entry = made.design.layers[motif.layer]
    craft: Any = technique(entry.technique)
    asked = params(entry.technique, entry.params, f"layers[{motif.layer}].params")
    yield from (Line(words, motif.place) for words in own_words(made, motif))
    yield from colour_lines(made, motif)
    yield from first_thread(made, motif)
    first, *stations = craft.route(motif.site, asked)
    yield Line(
        f"{run_in(made)}, and come up {first}. Take every bite {hand_of(motif).bite} as you travel.", motif.place, 1
    )
    yield from (Line(text, motif.place, 1) for text in stations)
    for rows in _strands(motif):
        if len(rows) > 1:
            yield from later_rows(made, motif, rows)
    yield Line("End the thread after the last bite: run it under the wrap, come up, and cut it close to the ball.")


def _strands(motif: Motif) -> Sequence[Sequence[Any]]:
    return [[row for row in motif.rows if row.strand == strand] for strand in sorted({r.strand for r in motif.rows})]
