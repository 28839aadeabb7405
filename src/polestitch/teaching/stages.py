"""The stages of one ball, with the minutes a student needs for each, down to single rows.

In: a ``WorkUp`` and the students' pace.  Out: ``Stage`` records in the order of work.

All stages but the last together take what the estimate says of the whole ball, times the pace.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import groupby
from typing import Literal

import numpy as np

from polestitch.document.said import listed
from polestitch.estimate.handling import handling
from polestitch.estimate.hours import PER, PRACTICE, Assumption
from polestitch.estimate.runs import runs
from polestitch.pipeline import Build
from polestitch.stitching.schedule import Work
from polestitch.teaching.minutes import NONE, Minutes, added
from polestitch.workup import WorkUp

Kind = Literal["base", "pins", "marking", "layer", "finish"]
FINISHING = Assumption("looking over, hiding ends and counting pins", 300, 600, 1200, "s a ball", PRACTICE)
EVERYWHERE = " at every place"
FEW_PLACES = 4  # at more places than these a layer is one stage, not one a place


@dataclass(frozen=True)
class Item:
    """What is done before one can well stop: ``after`` says where that is.

    ``parts``: one may stop in the middle of it, which ``pause`` puts into words.
    """

    after: str
    minutes: Minutes
    parts: bool = False

    @property
    def pause(self) -> str:
        """Where one stops in the middle of it."""
        row, everywhere, _ = self.after.partition(EVERYWHERE)
        return f"between two places of {row}" if everywhere else f"in the middle of {self.after}"


@dataclass(frozen=True)
class Stage:
    """A part of the work; ``layers`` are the design's layers it belongs to."""

    kind: Kind
    title: str
    items: tuple[Item, ...]
    layers: tuple[int, ...] = ()

    @property
    def minutes(self) -> Minutes:
        """All of its items."""
        return added(item.minutes for item in self.items)


def stages(work: WorkUp, pace: float) -> tuple[Stage, ...]:
    """Base, pins, marking, stitching, finishing."""
    build, parts = work.build, {part.label: part for part in work.estimate.hours.parts}

    def minutes(*kinds: str) -> Minutes:
        found = [parts[PER[kind].label] for kind in kinds]
        return added(Minutes(60 * part.low, 60 * part.likely, 60 * part.high) for part in found).times(pace)

    pieces = len(work.way.pieces) + len(work.way.support)
    lines = minutes("marking", "tacks").plus(_taking(PER["starts"], pieces).times(pace))
    before = (
        Stage("base", "Winding the base", (Item("winding the base", minutes("core", "yarn", "wrap"), parts=True),)),
        Stage("pins", "Measuring and setting pins", (Item("setting the pins", minutes("pins"), parts=True),)),
        Stage("marking", "Laying the marking lines", (Item("tacking the marking", lines, parts=True),)),
    )
    last = Item("finishing", _taking(FINISHING, 1).times(pace), parts=True)
    return (*before, *_stitching(build, _rows(work, pace)), Stage("finish", "Finishing", (last,)))


def _taking(each: Assumption, amount: float) -> Minutes:
    return Minutes(each.low, each.likely, each.high).times(amount / 60)


def _rows(work: WorkUp, pace: float) -> list[Minutes]:
    """Minutes of every laid row: its own work, and the pieces begun in it."""
    build, laid = work.build, work.build.laid
    count = len(laid.row_layer)
    begun = [piece.start.row for amount in work.estimate.threads for piece in amount.pieces]
    starts = np.bincount(np.array(begun, dtype=np.int64), minlength=count)
    hand = handling(build.design.maker)
    for run in runs(build.design.layers, build.motifs, laid, build.ball, hand):
        for row, way in list(zip(run.rows, run.way))[1:]:
            starts[row] += way >= 2 * hand.ends
    amounts = {**work.rows, "starts": starts}
    return [added(_taking(PER[kind], float(amounts[kind][k])) for kind in amounts).times(pace) for k in range(count)]


def _stitching(build: Build, minutes: Sequence[Minutes]) -> Iterator[Stage]:
    """Rows that belong together: of one motif, or, where motifs take turns, of one run of colours."""
    placed = list(zip(build.order, minutes))
    for _, company in groupby(placed, key=lambda pair: _company(build, pair[0])):
        together = list(company)
        first = build.motifs[together[0][0].motif]
        if _in_turn(build, first.layer):
            yield from _in_turns(build, together)
        else:
            yield _one(build, together)


def _company(build: Build, work: Work) -> tuple[str, int]:
    """What a row is worked together with."""
    motif = build.motifs[work.motif]
    entry = build.design.layers[motif.layer]
    if _in_turn(build, motif.layer):
        return f"with {entry.together}" if entry.together else f"alone {motif.layer}", 0
    places = sum(other.layer == motif.layer for other in build.motifs)
    return f"layer {motif.layer}", motif.number if places <= FEW_PLACES else 0


def _in_turn(build: Build, layer: int) -> bool:
    entry = build.design.layers[layer]
    return entry.together is not None or entry.combine == "layered"


def _one(build: Build, together: Sequence[tuple[Work, Minutes]]) -> Stage:
    """A layer at one place, or at all of many."""
    motifs = list(dict.fromkeys(work.motif for work, _ in together))
    first = build.motifs[motifs[0]]
    name = build.design.layers[first.layer].name
    alone = sum(other.layer == first.layer for other in build.motifs) == 1
    where = f"{len(motifs)} places" if len(motifs) > 1 else first.place
    title = name if alone else f"{name} at {where}"
    items = tuple(Item(_after(build, work), minutes) for work, minutes in together)
    return Stage("layer", _capital(title), items, (first.layer,))


def _in_turns(build: Build, together: Sequence[tuple[Work, Minutes]]) -> Iterator[Stage]:
    """Round after round at every place; rounds of one colour make a stage."""
    layers = tuple(dict.fromkeys(build.motifs[work.motif].layer for work, _ in together))
    names = listed([build.design.layers[layer].name for layer in layers])
    rounds = [list(group) for _, group in groupby(together, key=lambda pair: pair[0].row)]
    for _, alike in groupby(rounds, key=lambda group: {_thread(build, each[0]) for each in group}):
        of_colour = list(alike)
        first, last = (of_colour[k][0][0].row + 1 for k in (0, -1))
        rows = f"row {first}" if first == last else f"rows {first} to {last}"
        items = tuple(_round(group, names) for group in of_colour)
        yield Stage("layer", _capital(f"{names}: {rows}"), items, layers)


def _round(group: Sequence[tuple[Work, Minutes]], names: str) -> Item:
    """One row at every place; one may stop between two places."""
    after = f"row {group[0][0].row + 1} of {names}{EVERYWHERE}"
    return Item(after, added(minutes for _, minutes in group), parts=len(group) > 1)


def _thread(build: Build, work: Work) -> int:
    return build.motifs[work.motif].threads[work.row]


def _after(build: Build, work: Work) -> str:
    motif = build.motifs[work.motif]
    row = motif.rows[work.row]
    kind = "turn" if row.turn is not None else "row"
    return f"{kind} {row.number} of {build.design.layers[motif.layer].name} at {motif.place}"


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]


def total(listed_stages: Sequence[Stage]) -> Minutes:
    """Minutes of all of them."""
    return added(stage.minutes for stage in listed_stages) if listed_stages else NONE
