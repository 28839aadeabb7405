"""Steps of a motif whose thread goes all over the ball, and of any whose technique says how in its own words.

In: a build and one motif.  Out: lines of instruction.
"""

from collections.abc import Iterator

from polestitch.document.lengths import Length
from polestitch.document.said import listed, set_length
from polestitch.laying.built import Stitched
from polestitch.steps.corners import corners
from polestitch.steps.hands import hand_of
from polestitch.steps.rows import colour_lines, first_thread, last_lines, later_rows, run_in
from polestitch.steps.step import Line
from polestitch.stitching.motifs import Motif
from polestitch.stitching.technique import params, technique


def own_words(made: Stitched, motif: Motif) -> tuple[str, ...]:
    """What the technique says about how it is worked; empty where the general steps say it all."""
    entry = made.design.layers[motif.layer]
    asked = params(entry.technique, entry.params, f"layers[{motif.layer}].params")
    values = {name: _said(made, motif, value) for name, value in asked}
    return tuple(words.format(**values) for words in getattr(technique(entry.technique), "HOW", ()))


def _said(made: Stitched, motif: Motif, value: object) -> str:
    """A param in words; a length that counts from an end of the guidelines in millimetres from the middle."""
    site, units = motif.site, made.design.maker.units
    if not isinstance(value, Length) or value.origin is None or site.kind != "centre":
        return str(value)
    lines: dict[str, list[str]] = {}
    for k, number in enumerate(site.numbers):
        far = set_length(made.ball.mm(site.distance(value, k, "params")), units)
        lines.setdefault(far, []).append(str(number))
    if len(lines) == 1:
        return f"{next(iter(lines))} from {motif.place}"
    return "; ".join(f"{far} from {motif.place} on lines {listed(names)}" for far, names in lines.items())


def ball_lines(made: Stitched, motif: Motif) -> Iterator[Line]:
    """The technique's own words, and bite by bite where the first row goes."""
    hand, row, units = hand_of(motif), motif.rows[0], made.design.maker.units
    yield from (Line(words, motif.place) for words in own_words(made, motif))
    yield from colour_lines(made, motif)
    yield from first_thread(made, motif)
    spots = {bite: corner for corner in corners(motif, row, made.ball, made.marking) for bite in corner.bites}
    said = [
        spots[k].pin if spots[k].mm < 0.25 else f"{spots[k].pin}, {set_length(spots[k].mm, units)} off it"
        for k in range(len(row.half))
    ]
    yield Line(f"{run_in(made)}, and come up at {said[0]}.", motif.place, 1)
    for spot in said[1:]:
        yield Line(f"Lay the thread to {spot}. Take a bite there, {hand.bite} across your way.", motif.place, 1)
    yield Line("Lay the thread back to where you came up, and take the last bite there.", motif.place, 1)
    if len(motif.rows) > 1:
        yield from later_rows(made, motif, motif.rows)
    yield from last_lines(made, motif)
