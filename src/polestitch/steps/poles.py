"""Steps of a motif worked at both poles at once.

In: a build and one motif.  Out: lines of instruction.
"""

from collections.abc import Iterator

from polestitch.document.said import set_length
from polestitch.laying.built import Stitched
from polestitch.sphere.arcs import arc_angle
from polestitch.steps.corners import AT_PIN, corners
from polestitch.steps.hands import hand_of
from polestitch.steps.roaming import own_words
from polestitch.steps.rows import colour_lines, first_thread, last_lines, later_rows, run_in
from polestitch.steps.step import Line
from polestitch.stitching.motifs import Motif
from polestitch.stitching.stitches import Row


def pole_lines(made: Stitched, motif: Motif) -> Iterator[Line]:
    """Keeper pins, the first row pole by pole, later rows, and the second thread where there are two."""
    yield Line(f"Hold the ball with {motif.place} up.")
    yield from (Line(words, motif.place) for words in own_words(made, motif))
    yield from colour_lines(made, motif)
    yield from first_thread(made, motif)
    strands = [[row for row in motif.rows if row.strand == strand] for strand in sorted({r.strand for r in motif.rows})]
    if len(strands) > 1:
        yield Line("Two threads take their rows in turn: one begins near each pole.")
    for rows in strands:
        yield from _first_row(made, motif, rows[0])
    yield from later_rows(made, motif, strands[0])
    yield from last_lines(made, motif)


def _first_row(made: Stitched, motif: Motif, row: Row) -> Iterator[Line]:
    hand, units = hand_of(motif), made.design.maker.units
    other = _opposite(made, motif)
    found = {bite: corner for corner in corners(motif, row, made.ball, made.marking) for bite in corner.bites}
    sides = [motif.place if height > 0 else other for height in row.places[:, 2]]
    spots = [f"{set_length(found[k].mm, units)} from {sides[k]}" for k in range(len(sides))]
    first, second = row.spokes[:2]
    yield Line(f"{run_in(made)}, and come up just {hand.back} of line {first}, {spots[0]}.", motif.place, row.number)
    yield Line(
        f"Lay the thread to the {hand.forward} and over the equator, between the keeper pins half way to line "
        f"{second}. Take a bite {hand.bite} under line {second}, {spots[1]}.",
        motif.place,
        row.number,
    )
    yield Line(
        f"Go on to the {hand.forward} in the same way, near {sides[0]} and near {sides[1]} by turns, always over the "
        f"equator half way: {len(row.half)} bites on lines {', '.join(map(str, row.spokes[:6]))}"
        f"{' and so on' if len(row.spokes) > 6 else ''}.",
        motif.place,
        row.number,
    )
    if row.laps > 1:
        yield Line(f"You pass the start before the row is whole: it closes after {row.laps} laps round the ball.")
    yield Line(f"Take the last bite {hand.bite} round the place where you came up.", motif.place, row.number)


def _opposite(made: Stitched, motif: Motif) -> str:
    """The name of the point opposite the motif's place."""
    at = -motif.middle
    names = [name for name, point in made.marking.by_name.items() if float(arc_angle(point.at, at)) < AT_PIN]
    return names[0] if names else "the far pole"
