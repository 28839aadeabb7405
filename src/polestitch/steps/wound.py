"""Steps of a wrapped band: turns wound from the reel, one side of the line and then the other.

In: a build and one motif.  Out: lines of instruction.
"""

from collections.abc import Iterator, Sequence

from polestitch.document.said import listed, near_length, set_length
from polestitch.laying.built import Stitched
from polestitch.steps.circle import sides
from polestitch.steps.corners import the
from polestitch.steps.hands import hand_of
from polestitch.steps.rows import alternating_groups
from polestitch.steps.step import Line
from polestitch.steps.table import turn_mm
from polestitch.stitching.motifs import Motif
from polestitch.stitching.stitches import Row

PIN_EVERY = "every 2 to 3 cm"  # published: temarikai.com/PatternsPages/SimplePg2/JD03.html


def band_lines(made: Stitched, motif: Motif) -> Iterator[Line]:
    """Start, turns on the first side, over to the second, end, keeper pins."""
    yield Line("Thread the needle from the reel without cutting. Pull the end through the ball when you start.")
    yield Line("Point the needle the way you wind, nearly level with the band. Never turn it back on itself.")
    first, second = _halves(motif)
    yield from _first_half(made, motif, first)
    if second:
        yield from _second_half(made, motif, first, second)
    yield Line("End each colour where it started: go in a few mm past the start, run under the wrap, and cut it close.")
    yield Line("Let the starts of different bands lie apart, so that no lump forms.")
    yield Line(
        f"Set keeper pins in pairs {PIN_EVERY}, a little wider apart than the band. "
        "Leave them in until later stitches hold the turns, then take them out."
    )
    width = made.ball.mm(sum(row.pitch for row in motif.rows))
    yield Line(f"The finished band is about {near_length(width, made.design.maker.units)} wide.", motif.place)


def _halves(motif: Motif) -> tuple[Sequence[Row], Sequence[Row]]:
    """The turns on the side wound first, and those on the other: there the count from the line begins anew."""
    cut = next((k for k in range(1, len(motif.rows)) if motif.rows[k].plan <= motif.rows[k - 1].plan), len(motif.rows))
    return motif.rows[:cut], motif.rows[cut:]


def _latitude(row: Row) -> float:
    return row.turn.offset if row.turn is not None else 0.0


def _parallel(made: Stitched, motif: Motif) -> bool:
    """Whether the band lies off its circle: then its first turn does not touch the circle."""
    return turn_mm(made, motif.rows[0]) > motif.rows[0].pitch * made.ball.radius_mm * 0.75


def _first_half(made: Stitched, motif: Motif, rows: Sequence[Row]) -> Iterator[Line]:
    towards = sides(motif, made.marking)[0 if _latitude(rows[0]) >= 0 else 1]
    off = set_length(turn_mm(made, rows[0]), made.design.maker.units)
    line = the(motif.place)
    where = (
        f"on the line that first crosses {line}" if _parallel(made, motif) else f"beside {line} at its first crossing"
    )
    yield Line(f"Come up {where}, on the side toward {towards}: the middle of the first turn lies {off} from {line}.")
    outward = len(rows) == 1 or abs(_latitude(rows[-1])) >= abs(_latitude(rows[0]))
    yield _wind(made, motif, rows, outward)


def _second_half(made: Stitched, motif: Motif, first: Sequence[Row], rows: Sequence[Row]) -> Iterator[Line]:
    line, up = the(motif.place), _latitude(rows[0]) > _latitude(first[0])
    if _parallel(made, motif):
        nearer = abs(_latitude(rows[0])) < abs(_latitude(first[0]))
        side = "nearer to" if nearer else "further from"
        yield Line(f"Pass under the first turn in the winding direction and come out on its side {side} {line}.")
        yield _wind(made, motif, rows, not nearer)
        return
    towards = sides(motif, made.marking)[0 if up else 1]
    yield Line(f"Pass under {line} in the winding direction and come out on its side toward {towards}.")
    yield _wind(made, motif, rows, True)


def _wind(made: Stitched, motif: Motif, rows: Sequence[Row], outward: bool) -> Line:
    """Turn beside turn, away from the circle or back toward it."""
    first = next(k for k, row in enumerate(motif.rows) if row is rows[0])
    names = [made.design.threads[k].name for k in motif.threads[first : first + len(rows)]]
    turns = listed([f"{count} turn{'s' * (count > 1)} of {name}" for name, count in alternating_groups(names)])
    way = f"{'outward from' if outward else 'inward, toward'} {the(motif.place)}"
    return Line(
        f"Wind to the {hand_of(motif).forward}, once round the ball for each turn: {turns}, "
        f"each against the one before, {way}.",
        motif.place,
        rows[0].number,
    )
