"""Steps of a wrapped band: turns wound from the reel, one side of the line and then the other.

In: a build and one motif.  Out: lines of instruction.
"""

from collections.abc import Iterator, Sequence

from polestitch.document.said import listed, near_length, set_length
from polestitch.steps.circle import sides
from polestitch.steps.corners import the
from polestitch.steps.hands import hand_of
from polestitch.steps.rows import alternating_groups
from polestitch.steps.step import Line, Made
from polestitch.steps.table import turn_mm
from polestitch.stitching.motifs import Motif
from polestitch.stitching.stitches import Row

PIN_EVERY = "every 2 to 3 cm"  # published: temarikai.com/PatternsPages/SimplePg2/JD03.html


def band_lines(made: Made, motif: Motif) -> Iterator[Line]:
    """Start, turns on the first side, over to the second, end, keeper pins."""
    halves = [[r for r in motif.rows if _high(r)], [r for r in motif.rows if not _high(r)]]
    if motif.rows and not _high(motif.rows[0]):
        halves.reverse()
    told = [half for half in halves if half]
    yield Line("Thread the needle from the reel without cutting. Pull the end through the ball when you start.")
    yield Line("Point the needle the way you wind, nearly level with the band. Never turn it back on itself.")
    for n, half in enumerate(told):
        yield from _half(made, motif, half, n > 0)
    yield Line("End each colour where it started: go in a few mm past the start, run under the wrap, and cut it close.")
    yield Line("Let the starts of different bands lie apart, so that no lump forms.")
    yield Line(
        f"Set keeper pins in pairs {PIN_EVERY}, a little wider apart than the band. "
        "Leave them in until later stitches hold the turns, then take them out."
    )
    width = made.ball.mm(sum(row.pitch for row in motif.rows))
    yield Line(f"The finished band is about {near_length(width, made.design.maker.units)} wide.", motif.place)


def _high(row: Row) -> bool:
    return row.turn is not None and row.turn.offset >= 0


def _half(made: Made, motif: Motif, rows: Sequence[Row], second: bool) -> Iterator[Line]:
    hand, towards = hand_of(motif), sides(motif, made.marking)[0 if _high(rows[0]) else 1]
    line = the(motif.place)
    index = {id(row): k for k, row in enumerate(motif.rows)}
    names = [made.design.threads[motif.threads[index[id(row)]]].name for row in rows]
    turns = listed([f"{count} turn{'s' * (count > 1)} of {name}" for name, count in alternating_groups(names)])
    if second:
        yield Line(f"Pass under {line} in the winding direction and come out on its side toward {towards}.")
    else:
        off = set_length(turn_mm(made, rows[0]), made.design.maker.units)
        yield Line(
            f"Come up beside {line} at its first crossing, on the side toward {towards}: "
            f"the middle of the first turn lies {off} from the line."
        )
    yield Line(
        f"Wind to the {hand.forward}, once round the ball for each turn: {turns}, each against the one before, "
        f"outward from {line}.",
        motif.place,
        rows[0].number,
    )
