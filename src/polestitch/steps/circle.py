"""Steps of a motif worked along a circle, above and below it by turns: the zigzag.

In: a build and one motif.  Out: lines of instruction.
"""

from collections.abc import Iterator

import numpy as np

from polestitch.ball.ball import Ball
from polestitch.document.said import near_length, set_length
from polestitch.laying.built import Stitched
from polestitch.marking.marking import Marking
from polestitch.sphere.arcs import arc_angle
from polestitch.steps.corners import the
from polestitch.steps.hands import hand_of
from polestitch.steps.roaming import own_words
from polestitch.steps.rows import colour_lines, first_thread, last_lines, later_rows, run_in
from polestitch.steps.step import Line
from polestitch.stitching.motifs import Motif
from polestitch.stitching.stitches import Row

AT_POINT = 1e-6  # radians


def circle_lines(made: Stitched, motif: Motif) -> Iterator[Line]:
    """One zigzag, and the second that mirrors it where there are two."""
    up, down = sides(motif, made.marking)
    yield Line(f"Hold the ball with {up} up and {the(motif.place)} before you.")
    yield from (Line(words, motif.place) for words in own_words(made, motif))
    yield from colour_lines(made, motif)
    yield from first_thread(made, motif)
    moving = [row for row in motif.rows if row.plan == 0]
    if own_words(made, motif) and len({row.strand for row in motif.rows}) == len(motif.rows):
        yield from _needles(made, motif, moving, (up, down))
        return
    strands = [[row for row in motif.rows if row.strand == strand] for strand in sorted({r.strand for r in motif.rows})]
    for n, rows in enumerate(strands):
        if n:
            yield Line(f"Work a second zigzag that mirrors the first and crosses it on {the(motif.place)}.")
        yield from _zigzag(made, motif, rows[0], (up, down))
        if len(rows) > 1:
            yield from later_rows(made, motif, rows)
    yield from last_lines(made, motif)


def _needles(made: Stitched, motif: Motif, first: list[Row], towards: tuple[str, str]) -> Iterator[Line]:
    """Each needle's first row, and how all later ones move along the edge."""
    if len(first) > 1:
        yield Line(f"Thread {len(first)} needles. They take their rows in turn.")
    for row in first:
        yield from _zigzag(made, motif, row, towards)
    if len(motif.rows) > len(first):
        mm = made.ball.mm(float(arc_angle(first[0].places[0], motif.rows[len(first)].places[0])))
        forward, along = hand_of(motif).forward, near_length(round(2 * mm) / 2 or mm, made.design.maker.units)
        yield Line(
            f"Later rows: each needle sets every bite about {along} to the {forward} of its former row's, "
            "the same way from first to last.",
            motif.place,
            motif.rows[len(first)].number,
        )
    yield from last_lines(made, motif)


def _zigzag(made: Stitched, motif: Motif, row: Row, towards: tuple[str, str]) -> Iterator[Line]:
    hand, units, place = hand_of(motif), made.design.maker.units, motif.place
    line = the(place)
    spots = [_spot(made.ball, row, k, towards) for k in range(2)]
    off = [f"{set_length(mm, units)} from {line} toward {side}" for mm, side in spots]
    start = _start(motif, row, made.marking)
    yield Line(f"{run_in(made)}, and come up just {hand.back} of {start}, {off[0]}.", place, row.number)
    yield Line(
        f"Lay the thread across {line}, {set_length(_onward(made.ball, row), units)} to the {hand.forward}. "
        f"Take a bite {hand.bite}, {off[1]}.",
        place,
        row.number,
    )
    yield Line(
        f"Go on to the {hand.forward} in the same way, toward {spots[0][1]} and toward {spots[1][1]} by turns: "
        f"{len(row.half)} bites, until you are back at the start.",
        place,
        row.number,
    )
    yield Line(f"Take the last bite {hand.bite} round the place where you came up.", place, row.number)


def _spot(ball: Ball, row: Row, bite: int, towards: tuple[str, str]) -> tuple[float, str]:
    """How far a bite stands from the line, and toward what."""
    height = float(np.arcsin(np.clip(row.places[bite, 2], -1, 1)))
    return ball.mm(abs(height)), towards[0] if height > 0 else towards[1]


def _onward(ball: Ball, row: Row) -> float:
    """From one bite to the next along the circle, in mm."""
    first, second = np.arctan2(row.places[:2, 1], row.places[:2, 0])
    return ball.mm(float((second - first) % (2 * np.pi)))


def _start(motif: Motif, row: Row, marking: Marking) -> str:
    """Where the row starts: a named spot on the circle, or the first guideline that crosses it."""
    flat = row.places[0] * [1.0, 1.0, 0.0]
    at = motif.frame @ (flat / np.linalg.norm(flat))
    names = [name for name, point in marking.by_name.items() if arc_angle(point.at, at) < AT_POINT]
    return names[0] if names else "your start pin"


def sides(motif: Motif, marking: Marking) -> tuple[str, str]:
    """The marked points nearest to the circle's own pole and to the opposite one: what "up" and "down" mean."""
    towards = marking.xyz @ motif.middle
    return marking.points[int(np.argmax(towards))].name, marking.points[int(np.argmin(towards))].name
