"""The sentence of each bite: where the thread goes, where the needle, how far from which pin.

In: a build, a motif and one of its rows.  Out: ``Bite`` records, one for each place of the row.
"""

from typing import NamedTuple

import numpy as np

from polestitch.document.said import set_length
from polestitch.laying.built import Stitched
from polestitch.marking.folds import recipe
from polestitch.steps.around import spot
from polestitch.steps.corners import SAME_MM, corners, the
from polestitch.steps.hands import hand_of
from polestitch.steps.table import FINEST_SHARE, turn_mm
from polestitch.stitching.motifs import Motif
from polestitch.stitching.stitches import Row


class Bite(NamedTuple):
    """One place of a row: ``at`` on the ball, ``mm`` from ``origin``."""

    at: str
    origin: str
    mm: float
    kind: str
    off: str  # "12 mm from N"
    strip: str | None


def bites_of_row(made: Stitched, motif: Motif, row: Row) -> tuple[Bite, ...]:
    """Every place of the row in visiting order."""
    units = made.design.maker.units
    found = {k: corner for corner in corners(motif, row, made.ball, made.marking) for k in corner.bites}
    bites = []
    for k in range(len(row.half)):
        corner = found[k]
        share = corner.mm / made.ball.around_mm
        fold = recipe(share, made.ball.around_mm) if share >= FINEST_SHARE else None
        off = f"{set_length(corner.mm, units)} from {the(corner.pin)}"
        bites.append(Bite(_at(motif, row, k, corner.pin), corner.pin, corner.mm, corner.kind, off, fold))
    return tuple(bites)


def _at(motif: Motif, row: Row, bite: int, pin: str) -> str:
    if motif.site.kind in ("centre", "poles") and row.spokes[bite] in motif.site.numbers:
        return spot(motif, row, bite)
    return pin.removeprefix("the middle of ") if motif.site.kind != "circle" else the(motif.place)


def coming_up(made: Stitched, motif: Motif, row: Row, first: Bite) -> str:
    """Where the needle comes up to begin the row."""
    if row.turn is not None:
        return f"come up on {_line(motif)}, {set_length(turn_mm(made, row), made.design.maker.units)} from its middle"
    if motif.site.kind == "ball":
        return f"come up at {_spot(first)}"
    side = f"just {hand_of(motif).back} of " if row.up is None else "at "
    return f"come up {side}{first.at}, {first.off}" if first.at != first.origin else f"come up {side}{_spot(first)}"


def bite_said(made: Stitched, motif: Motif, row: Row, bites: tuple[Bite, ...], span: int) -> str:
    """The movement that lays span ``span`` of the row and takes the bite at its end."""
    to = (span + 1) % len(bites)
    there, hand = bites[to], hand_of(motif)
    if row.up is not None:
        return _stroke_said(there, bites, row, to)
    if to == 0 and row.closed:
        return (
            f"Lay the thread back to {there.at}. Take the last bite {hand.bite}, {there.off}, round the place where "
            f"you came up."
        )
    words = {
        "circle": f"Lay the thread across {the(motif.place)} to the {hand.forward}. Take a bite {hand.bite}, "
        f"{there.off}{_toward(made, motif, row, to)}.",
        "arc": f"Lay the thread down the {hand.forward} side of the line. Take a bite {hand.bite} under the line, "
        f"{there.off}.",
        "ball": f"Lay the thread to {_spot(there)}. Take a bite there, {hand.bite} across your way.",
        "poles": f"Lay the thread to the {hand.forward} and over the equator, to {there.at}. "
        f"Take a bite {hand.bite} under the line, {there.off}.",
    }
    around = (
        f"Lay the thread to the {hand.forward}, to {there.at}. Take a bite {hand.bite} under the line, {there.off}."
    )
    return words.get(motif.site.kind, around)


def _stroke_said(there: Bite, bites: tuple[Bite, ...], row: Row, to: int) -> str:
    down = f"Lay the stroke and go in at {_spot(there)}."
    if to == 0 or (not row.closed and to == len(bites) - 1):
        return f"{down} That ends the row."
    return f"{down} Come up where the next stroke begins."


def turn_said(made: Stitched, motif: Motif, row: Row) -> str:
    """One wound turn."""
    off = turn_mm(made, row)
    where = f", {set_length(off, made.design.maker.units)} from it" if off >= SAME_MM else ""
    return f"Wind once round the ball to the {hand_of(motif).forward}, along {_line(motif)}{where}."


def _line(motif: Motif) -> str:
    return "its own great circle" if motif.site.kind == "ball" else the(motif.place)


def _spot(bite: Bite) -> str:
    return bite.origin if bite.mm < SAME_MM else bite.off


def _toward(made: Stitched, motif: Motif, row: Row, bite: int) -> str:
    towards = made.marking.xyz @ motif.middle
    up = row.places[bite, 2] > 0
    return f" toward {made.marking.points[int(np.argmax(towards) if up else np.argmin(towards))].name}"
