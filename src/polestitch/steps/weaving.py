"""Steps of turns that are woven: baskets and cubes all over the ball, and turns through spindles.

In: a build and one motif.  Out: lines of instruction.
"""

from collections.abc import Iterator, Sequence
from itertools import groupby

import numpy as np

from polestitch.document.said import listed, near_length, set_length
from polestitch.laying.built import Stitched
from polestitch.sphere.arcs import Points, arc_angle
from polestitch.steps.circle import sides
from polestitch.steps.corners import AT_PIN, the
from polestitch.steps.hands import hand_of
from polestitch.steps.roaming import own_words
from polestitch.steps.rows import alternating_groups, colour_lines, pattern_length, row_numbers, run_in, runs_of
from polestitch.steps.step import Line
from polestitch.stitching.motifs import Motif
from polestitch.stitching.stitches import Beneath, Row

IN_A_BREATH = 4  # places read one after the other before a pause
MOST_SPOTS = 40  # places where one band goes under, told one by one


def weave_lines(made: Stitched, motif: Motif) -> Iterator[Line]:
    """Direction after direction, and band after band under what it goes."""
    yield from (Line(words, motif.place) for words in own_words(made, motif))
    yield from _colours(made, motif)
    yield Line("Point the needle the way you wind. Start and end a few mm past a spot where another band covers it.")
    for n, rows in enumerate(_directions(motif), 1):
        yield Line(f"Direction {n}: {_direction_said(made, motif, rows)}", motif.place, rows[0].number)
        said = [None if row.beneath is None else _unders_said(made, motif, row.beneath) for row in rows]
        for first, last in runs_of(said):
            if said[first] is not None:
                numbers = row_numbers(rows[first].number, rows[last].number)
                text = f"{numbers}: go under {said[first]}, and over all else."
                yield Line(text, motif.place, rows[first].number)
    yield Line("End each thread where it started: run it under the wrap, come up, and cut it close to the ball.")


def spindle_weave_lines(made: Stitched, motif: Motif) -> Iterator[Line]:
    """The spindles, all alike, then the turns through them."""
    hand, units = hand_of(motif), made.design.maker.units
    stitched, turns = ([row for row in motif.rows if (row.turn is not None) == wound] for wound in (False, True))
    spindles, line, (up, _) = sorted({row.strand for row in stitched}), the(motif.place), sides(motif, made.marking)
    rounds = [row for row in stitched if row.strand == spindles[0]]
    tips = [made.ball.mm(abs(float(np.arcsin(row.places[0, 2])))) for row in (rounds[0], rounds[-1])]
    names = [made.design.threads[motif.threads[k]].name for k in range(len(motif.rows))]
    yield Line(f"Hold the ball with {up} up. {len(spindles)} spindles stand across {line}.", motif.place)
    yield Line(f"Set two pins for each, {set_length(tips[0], units)} above and below {line}.", motif.place, 1)
    yield from (Line(words, motif.place) for words in own_words(made, motif))
    yield Line(f"{run_in(made)}, and come up just {hand.back} of the upper pin. Take each bite {hand.bite}.")
    colours = ", then ".join(f"{len(list(same))} of {name}" for name, same in groupby(names[: len(rounds)]))
    yield Line(
        f"Work {len(rounds)} rounds on each spindle: {colours}. Its last tips stand {near_length(tips[1], units)} "
        f"from {line}.",
        motif.place,
        len(rounds),
    )
    for first, last in runs_of([(names[row.number - 1], row.under) for row in turns[:MOST_SPOTS]]):
        row, until = turns[first], turns[last]
        groups = [("over" if way == "o" else "under", len(list(same))) for way, same in groupby(row.under[0])]
        first_way, taken = groups[0]
        text = (
            f"{row_numbers(row.number, until.number)}, {names[row.number - 1]}: once round the ball, {taken} threads "
        )
        yield Line(f"{text}at a time, at every spindle beginning and ending {first_way}.", motif.place, row.number)
    yield Line("Push the turns together with the eye of the needle, so that they lie side by side.")


def _colours(made: Stitched, motif: Motif) -> Iterator[Line]:
    """By rows where each direction has its own, else thread by thread of one strand."""
    names = [made.design.threads[k].name for k in motif.threads]
    size = pattern_length(names)
    if size in {1, len(names)}:
        yield from colour_lines(made, motif)
        return
    said = listed([f"{count} {name}" for name, count in alternating_groups(names[:size])])
    yield Line(f"Colours of every strand, row by row from one edge to the other: {said}.", motif.place)


def _directions(motif: Motif) -> list[list[Row]]:
    found: list[list[Row]] = []
    for row in motif.rows:
        if found and abs(_normal(row) @ _normal(found[-1][0])) > 1 - AT_PIN:
            found[-1].append(row)
        else:
            found.append([row])
    return found


def _normal(row: Row) -> Points:
    return row.turn.normal if row.turn is not None else np.zeros(3)


def _direction_said(made: Stitched, motif: Motif, rows: Sequence[Row]) -> str:
    normal = motif.frame @ _normal(rows[0])
    poles = [_spot_name(made, side * normal) for side in (1.0, -1.0)]
    offs = [made.ball.mm(float(np.arcsin(row.turn.offset))) for row in (rows[0], rows[-1]) if row.turn]
    units = made.design.maker.units
    count, between = len(rows), f"round the ball midway between {poles[0]} and {poles[1]}"
    if count == 1 and abs(offs[0]) < AT_PIN:
        return f"row {rows[0].number} goes {between}."
    sides_ = [f"{set_length(abs(off), units)} on {poles[0 if off > 0 else 1]}'s side of the middle" for off in offs]
    return f"{row_numbers(rows[0].number, rows[-1].number).lower()} go {between}, from {sides_[0]} to {sides_[1]}."


def _spot_name(made: Stitched, at: Points) -> str:
    """The marked point there, or the nearest one."""
    return min(made.marking.by_name.values(), key=lambda point: float(arc_angle(point.at, at))).name


def _unders_said(made: Stitched, motif: Motif, plan: Beneath) -> str:
    """Which earlier rows, as runs of numbers, and near which marked points where that matters."""
    if plan.points is None:
        return _in_breaths([_run_said(run) for run in _runs(sorted(plan.rows))])
    spots: dict[str, set[int]] = {}
    for number, at in zip(plan.rows, plan.points):
        spots.setdefault(_spot_name(made, motif.frame @ at), set()).add(number)
    said = [f"{listed([_run_said(run) for run in _runs(sorted(rows))])} near {spot}" for spot, rows in spots.items()]
    rest = f"; and so on by turns, {len(said)} times in all" if len(said) > MOST_SPOTS else ""
    return _in_breaths(said[:MOST_SPOTS]) + rest


def _in_breaths(said: Sequence[str]) -> str:
    return "; ".join(listed(said[k : k + IN_A_BREATH]) for k in range(0, len(said), IN_A_BREATH))


def _run_said(run: tuple[int, int]) -> str:
    return row_numbers(*run).lower()


def _runs(numbers: Sequence[int]) -> list[tuple[int, int]]:
    """First and last of every run of numbers that follow each other."""
    runs: list[tuple[int, int]] = []
    for number in numbers:
        if runs and number == runs[-1][1] + 1:
            runs[-1] = (runs[-1][0], number)
        else:
            runs.append((number, number))
    return runs
