"""Steps of a motif worked round a centre: kiku, polygon, star.

In: a build and one motif.  Out: lines of instruction.
"""

from collections.abc import Iterator

import numpy as np

from polestitch.document.said import listed, near_length, set_length
from polestitch.laying.built import Stitched
from polestitch.marking.folds import recipe
from polestitch.steps.corners import Corner, corners
from polestitch.steps.hands import Hand, hand_of
from polestitch.steps.roaming import own_words
from polestitch.steps.rows import colour_lines, first_thread, last_lines, later_rows, pattern_length, run_in
from polestitch.steps.step import Line
from polestitch.steps.table import FINEST_SHARE
from polestitch.stitching.motifs import Motif
from polestitch.stitching.stitches import Row

ORDINALS = {1: "the next line", 2: "the second line on", 3: "the third line on", 4: "the fourth line on"}
# Up to this far out, a round card pinned at the centre shows a ring of bites better than single pins.
CARD_MM = 12.0
ON_LINE = 1e-6  # radians


def centre_lines(made: Stitched, motif: Motif) -> Iterator[Line]:
    """Pins, row 1 bite by bite, later rows, colours, the end."""
    hand, row = hand_of(motif), motif.rows[0]
    found = corners(motif, row, made.ball, made.marking)
    yield Line(f"Hold the ball with {motif.place} up. Turn it before every bite, so that your line runs up and down.")
    yield from (Line(words, motif.place) for words in own_words(made, motif))
    yield from _pins(made, motif, found)
    yield from colour_lines(made, motif)
    yield from first_thread(made, motif)
    yield from _first_row(made, motif, found, hand)
    if len(motif.rows) > 1:
        yield Line("Take out the pins of row 1. Keep one beside the start, so that every row begins and ends there.")
        yield from _later_figures(made, motif)
        yield Line(f"Measure every row or two: like corners must stand equally far from {motif.place}.")
    yield from last_lines(made, motif)


def _pins(made: Stitched, motif: Motif, found: tuple[Corner, ...]) -> Iterator[Line]:
    units, around = made.design.maker.units, made.ball.around_mm
    for corner in found:
        where = f"{set_length(corner.mm, units)} from {corner.pin}"
        if corner.kind == "inner bite" and corner.mm <= CARD_MM:
            card = near_length(2 * corner.mm, units)
            yield Line(f"Pin a round card {card} across at {corner.pin}: its edge shows each inner bite, {where}.")
        else:
            fold = f" ({recipe(corner.mm / around, around)})" if corner.mm / around >= FINEST_SHARE else ""
            on = spot(motif, motif.rows[0], corner.bites[0])
            lines = _lines(corner) if on.startswith("line") else f"{on} and so on"
            yield Line(f"Set a pin on {lines}, {where}, for each {corner.kind} of row 1{fold}.")


def _lines(corner: Corner) -> str:
    plural = "s" if len(corner.spokes) > 1 else ""
    return f"line{plural} {listed([str(number) for number in sorted(corner.spokes)])}"


def spot(motif: Motif, row: Row, bite: int) -> str:
    """The guideline a bite is on, or the two it stands between."""
    number = row.spokes[bite]
    index = motif.site.numbers.index(number)
    azimuth = float(np.arctan2(row.places[bite, 1], row.places[bite, 0]))
    off = float(np.mod(azimuth - motif.site.azimuths[index] + ON_LINE, 2 * np.pi)) - ON_LINE
    if off < ON_LINE:
        return f"line {number}"
    return f"the middle between lines {number} and {motif.site.numbers[(index + 1) % motif.site.ways]}"


def _later_figures(made: Stitched, motif: Motif) -> Iterator[Line]:
    """Rows after the first; where a new figure begins, on which lines."""
    strands = dict.fromkeys(row.strand for row in motif.rows)
    for strand in strands:
        rows = [row for row in motif.rows if row.strand == strand]
        row = rows[0]
        if row.number > 1:
            found = corners(motif, row, made.ball, made.marking)
            units = made.design.maker.units
            stand = [f"each {c.kind} stands {set_length(c.mm, units)} from {c.pin}" for c in found]
            yield Line(
                f"Row {row.number} begins a new figure at {spot(motif, row, 0)}, worked in the same way: "
                f"{listed(stand)}.",
                motif.place,
                row.number,
            )
        yield from later_rows(made, motif, rows)


def _first_row(made: Stitched, motif: Motif, found: tuple[Corner, ...], hand: Hand) -> Iterator[Line]:
    row, units, place = motif.rows[0], made.design.maker.units, motif.place
    by_bite = {bite: corner for corner in found for bite in corner.bites}
    ways = motif.site.ways
    index = [motif.site.numbers.index(number) for number in row.spokes]
    steps = [(index[k] - index[k - 1]) % ways for k in range(len(index))]
    start = spot(motif, row, 0)
    yield Line(
        f"{run_in(made)}, and come up just {hand.back} of {start}, "
        f"{set_length(by_bite[0].mm, units)} from {by_bite[0].pin}.",
        place,
        1,
    )
    size = pattern_length([(steps[k], by_bite[k]) for k in range(len(index))])
    told = min(max(size, 2), len(index) - 1)
    for k in range(1, told + 1):
        corner = by_bite[k]
        over = " Leave the thread slack enough to lie flat." if corner.kind == "inner bite" and k == 1 else ""
        yield Line(
            f"Lay the thread to the {hand.forward}, to {spot(motif, row, k)}{_on(steps[k])}. Take a bite {hand.bite} "
            f"under the line, {set_length(corner.mm, units)} from {corner.pin}: the {corner.kind}.{over}",
            place,
            1,
        )
    if told < len(index) - 1:
        yield Line(f"Go on to the {hand.forward} in the same way until you are back at {start}.", place, 1)
    if row.laps > 1:
        yield Line(
            f"You pass the start before the row is whole: it closes after {row.laps} laps round {place}.", place, 1
        )
    yield Line(
        f"Take the last bite on {start}, {hand.bite}, round the place where you came up. "
        f"Draw it in so that the {hand.forward} leg lies over the {hand.back} one, as at every other bite.",
        place,
        1,
    )


def _on(step: int) -> str:
    return f", {ORDINALS.get(step, f'{step} lines on')}" if step else ""
