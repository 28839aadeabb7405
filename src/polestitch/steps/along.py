"""Steps of a motif worked along one line, tip to tip: the spindle.

In: a build and one motif.  Out: lines of instruction.
"""

from collections.abc import Iterator

from polestitch.document.said import set_length
from polestitch.laying.built import Stitched
from polestitch.steps.corners import corners, the
from polestitch.steps.hands import hand_of
from polestitch.steps.rows import colour_lines, first_thread, last_lines, later_rows, run_in
from polestitch.steps.step import Line
from polestitch.stitching.motifs import Motif


def arc_lines(made: Stitched, motif: Motif) -> Iterator[Line]:
    """Two pins, down one side, turn, up the other; later rows, colours, the end."""
    hand, row, units = hand_of(motif), motif.rows[0], made.design.maker.units
    found = corners(motif, row, made.ball, made.marking)
    spots = [(corner.mm, corner.pin) for corner in found for _ in corner.bites]
    alike = spots[0][1] == spots[-1][1]
    for mm, pin in spots[:1] if alike else spots:
        pins = "two pins, one each way," if alike else "a pin"
        yield Line(f"Set {pins} on {the(motif.place)}, {set_length(mm, units)} from {pin}.", motif.place, 1)
    yield from colour_lines(made, motif)
    yield from first_thread(made, motif)
    near, far = ("one tip", "the other tip") if alike else (f"the tip toward {pin}" for _, pin in (spots[0], spots[-1]))
    yield Line(f"Hold the ball with {near} at the top.", motif.place, 1)
    yield Line(f"{run_in(made)}, and come up just {hand.back} of the line at that pin.", motif.place, 1)
    yield Line(f"Lay the thread down the {hand.forward} side of the line to the other pin.", motif.place, 1)
    yield Line(
        f"Turn the ball upside down, so that {far} is at the top: the thread now lies on the {hand.back}.",
        motif.place,
        1,
    )
    yield Line(f"Take a bite {hand.bite} under the line at that pin. The thread crosses over itself.", motif.place, 1)
    yield Line(f"Lay the thread down the {hand.forward} side, back to the first pin, and turn the ball again.")
    yield Line(
        f"Take the last bite {hand.bite} under the line and under the thread where you came up. Take out the two pins.",
        motif.place,
        1,
    )
    if len(motif.rows) > 1:
        yield from later_rows(made, motif, motif.rows)
        yield Line("Let each row lean against the one before: its flanks bow out, its tips stay sharp.")
    yield from last_lines(made, motif)
