"""The whole ball as hand steps, from the core to the finished ball.

In: a built ball with its pins and marking thread.  Out: ``Plan``: steps in the order of work, and how many where.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from polestitch.chair.bites import Bite, bite_said, bites_of_row, coming_up, turn_said
from polestitch.chair.hand_step import HandStep, Part
from polestitch.chair.passes import Words, passes_said
from polestitch.document.said import listed, near_length
from polestitch.estimate.handling import handling
from polestitch.estimate.hours import PER
from polestitch.estimate.runs import runs
from polestitch.laying.weave import closing
from polestitch.steps.ball import base_lines, finish_lines, marking_lines
from polestitch.steps.corners import corners, the
from polestitch.steps.layer import layer_lines
from polestitch.steps.roaming import own_words
from polestitch.steps.rows import run_in
from polestitch.stitching.motifs import Motif
from polestitch.stitching.stitches import Row
from polestitch.workup import WorkUp

Amounts = Mapping[str, float]  # by kind of work
# Steps that are no counted work take a share of a start: looking over and tidying, being told what comes, going on to
# the next row.  Common practice, no source.
FINISHING, TOLD, GOING_ON = 0.8, 0.4, 0.13
EYE_FIRST = "Pass the needle eye first, and slide it to and fro before you pull."


@dataclass(frozen=True)
class Stretch:
    """A layer: the number of its first step, and how many it has."""

    name: str
    first: int
    steps: int


@dataclass(frozen=True, eq=False)
class Plan:
    """``steps`` are counted from 0."""

    steps: tuple[HandStep, ...]
    layers: tuple[Stretch, ...]


@dataclass(frozen=True, eq=False)
class _Table:
    """What every row looks up."""

    work: WorkUp
    passes: dict[int, Words]
    bites: dict[tuple[int, str], tuple[Bite, ...]]

    @cached_property
    def of_motifs(self) -> dict[int, int]:
        """Motifs of each layer."""
        layers = [motif.layer for motif in self.work.build.motifs]
        return {layer: layers.count(layer) for layer in set(layers)}

    @cached_property
    def passed(self) -> NDArray[np.int64]:
        """(s,) threads that each span goes under."""
        build = self.work.build
        below = ~build.over & ~closing(build.laid, build.crossings)
        spans = build.laid.arc_span[build.crossings.second[below]]
        return np.bincount(spans, minlength=len(build.laid.span_row))

    @cached_property
    def cost(self) -> dict[int, np.ndarray[tuple[int], np.dtype[np.float64]]]:
        """Thread of each laid row, span by span."""
        build = self.work.build
        hand = handling(build.design.maker)
        listed_ = runs(build.design.layers, build.motifs, build.laid, build.ball, hand)
        return {row: cost for run in listed_ for row, cost in zip(run.rows, run.cost)}

    @cached_property
    def joins(self) -> tuple[set[tuple[int, int]], set[tuple[int, int]]]:
        """(row, bite) where a working length begins, and where one ends."""
        pieces = [piece for amount in self.work.estimate.threads for piece in amount.pieces]
        return {(p.start.row, p.start.bite) for p in pieces}, {(p.end.row, p.end.bite) for p in pieces}

    @cached_property
    def span_edges(self) -> list[int]:
        """(w + 1,) first span of each row."""
        laid = self.work.build.laid
        return np.searchsorted(laid.span_row, np.arange(len(laid.row_layer) + 1)).tolist()

    @cached_property
    def arc_edges(self) -> list[int]:
        """(s + 1,) first arc of each span."""
        laid = self.work.build.laid
        return np.searchsorted(laid.arc_span, np.arange(len(laid.span_row) + 1)).tolist()


def plan(work: WorkUp) -> Plan:
    """Every movement of the hand, for this maker's hand and units."""
    build = work.build
    table = _Table(work, passes_said(build), {})
    amounts = {part.label: part.amount for part in work.estimate.hours.parts}
    before = {kind: amounts[PER[kind].label] for kind in ("core", "yarn", "wrap", "pins", "marking", "tacks")}
    of_base = {kind: before.pop(kind) for kind in ("core", "yarn", "wrap")}
    base, end = list(base_lines(build)), list(finish_lines(build))
    marks = list(marking_lines(build, work.pins, work.way))
    thread = next((k for k, t in enumerate(build.design.threads) if t.name == build.design.marking.thread), -1)
    told = [
        *_plain("base", [line.text for line in base], of_base),
        *_plain("marking", [line.text for line in marks], before, (thread, work.way.mm)),
        *_stitched(table),
        *_plain("finish", [line.text for line in end], {"starts": FINISHING * len(end)}),
    ]
    steps = tuple(replace(step, n=n) for n, step in enumerate(_to_the_total(told, work)))
    return Plan(steps, _stretches(steps, [layer.name for layer in build.design.layers]))


def _plain(part: Part, lines: Sequence[str], work: Amounts, thread: tuple[int, float] = (-1, 0.0)) -> list[HandStep]:
    """Lines of instruction as they stand; time and thread shared out evenly."""
    count = max(1, len(lines))
    each, uses = {kind: amount / count for kind, amount in work.items()}, thread[1] / count
    return [HandStep(0, part, line, work=each, thread_index=thread[0], uses=uses) for line in lines]


def _to_the_total(steps: Sequence[HandStep], work: WorkUp) -> Iterator[HandStep]:
    """Each thread's steps take, all together, what the estimate says of it: ends and remainders are shared out."""
    totals = [amount.total_mm for amount in work.estimate.threads]
    used = [0.0] * len(totals)
    for step in steps:
        if step.thread_index >= 0:
            used[step.thread_index] += step.uses
    for step in steps:
        k = step.thread_index
        yield step if k < 0 or not used[k] else replace(step, uses=step.uses * totals[k] / used[k])


def _stretches(steps: Sequence[HandStep], names: Sequence[str]) -> tuple[Stretch, ...]:
    found = []
    for layer, name in enumerate(names):
        mine = [step.n for step in steps if step.layer == layer]
        found.append(Stretch(name, mine[0] if mine else 0, len(mine)))
    return tuple(found)


def _stitched(table: _Table) -> Iterator[HandStep]:
    """Row after row in laying order; a layer and a motif are told about where they begin."""
    build = table.work.build
    begun: set[tuple[int, int]] = set()
    for index, work in enumerate(build.order):
        motif = build.motifs[work.motif]
        if (motif.layer, -1) not in begun:
            begun.add((motif.layer, -1))
            yield from _layer_begins(table, motif.layer)
        if (motif.layer, motif.number) not in begun:
            begun.add((motif.layer, motif.number))
            yield _motif_begins(table, motif)
        yield from _row(table, motif, motif.rows[work.row], index)


def _layer_begins(table: _Table, layer: int) -> Iterator[HandStep]:
    """What the layer is, in the words of its steps before the first place."""
    lines = []
    for line in layer_lines(table.work.build, layer):
        if line.place is not None:
            break
        lines.append(line.text)
    name = table.work.build.design.layers[layer].name
    yield HandStep(0, "layer", f"Now comes {name}. {lines[0]}", " ".join(lines[1:]), layer=layer, work={"starts": TOLD})


def _motif_begins(table: _Table, motif: Motif) -> HandStep:
    """Holding the ball, pins of the first row, and the technique's own words."""
    build = table.work.build
    units, row = build.design.maker.units, motif.rows[0]
    pins = [
        f"each {c.kind} {near_length(c.mm, units)} from {the(c.pin)}"
        for c in corners(motif, row, build.ball, build.marking)[:6]
    ]
    say = f"Turn the ball to {the(motif.place)}."
    if pins and row.up is None:
        say += f" Set pins for the first row: {listed(pins)}."
    return HandStep(
        0,
        "layer",
        say,
        " ".join(own_words(build, motif)),
        layer=motif.layer,
        motif=motif.number,
        of_motifs=table.of_motifs[motif.layer],
        at=motif.place,
        xyz=_xyz(motif.middle),
        work={"starts": TOLD},
    )


def _row(table: _Table, motif: Motif, row: Row, index: int) -> Iterator[HandStep]:
    """Coming up, then one step a span."""
    build = table.work.build
    key = (id(row), motif.place)
    if key not in table.bites:
        table.bites[key] = bites_of_row(build, motif, row) if row.turn is None else ()
    bites = table.bites[key]
    first, last = table.span_edges[index : index + 2]
    common = _common(table, motif, row, index)
    yield _row_begins(table, motif, row, (index, bites, common))
    for k in range(last - first):
        yield _span(table, motif, row, (index, k, bites, common))


def _common(table: _Table, motif: Motif, row: Row, index: int) -> HandStep:
    thread = motif.threads[next(k for k, other in enumerate(motif.rows) if other is row)]
    first, last = table.span_edges[index : index + 2]
    return HandStep(
        0,
        "layer",
        "",
        layer=motif.layer,
        motif=motif.number,
        of_motifs=table.of_motifs[motif.layer],
        row=row.number,
        of_rows=len(motif.rows),
        of_laps=row.laps,
        lap=1,
        of_bites=last - first,
        thread=table.work.build.design.threads[thread].name,
        thread_index=thread,
        row_index=index,
    )


def _row_begins(table: _Table, motif: Motif, row: Row, known: tuple[int, tuple[Bite, ...], HandStep]) -> HandStep:
    index, bites, common = known
    build, first = table.work.build, bites[0] if bites else None
    up = coming_up(build, motif, row, first or Bite(motif.place, motif.place, 0.0, "", "", None))
    begins = (index, 0) in table.joins[0]
    maker, arc = build.design.maker, table.arc_edges[table.span_edges[index]]
    if begins:
        length = "the reel" if row.turn is not None else near_length(maker.working_length.mm or 0.0, maker.units)
        say = f"Thread the needle with {length} of {common.thread}. {run_in(build)}, and {up}."
    elif row.turn is not None:
        say = f"Go straight on to turn {row.number}: step over to its place and keep the thread taut."
    else:
        say = f"Begin row {row.number}: run the needle under the wrap, and {up}."
    return replace(
        common,
        say=say,
        more="Make no knot." if begins else "",
        at=first.at if first else motif.place,
        origin=first.origin if first else None,
        mm=round(first.mm, 2) if first else None,
        strip=first.strip if first else None,
        bite=0,
        xyz=_xyz(motif.frame @ row.leaves[0]) if first else _xyz(build.laid.start[arc]),
        arcs=(arc, arc),
        join="begin" if begins else None,
        work={"starts": 1.0 if begins else GOING_ON},
    )


def _span(table: _Table, motif: Motif, row: Row, known: tuple[int, int, tuple[Bite, ...], HandStep]) -> HandStep:
    index, k, bites, common = known
    build, span = table.work.build, table.span_edges[index] + k
    first, last = table.arc_edges[span : span + 2]
    to = (k + 1) % len(bites) if bites else 0
    there = bites[to] if bites else None
    under, over = table.passes.get(span, ((), ()))
    begins, ends = k > 0 and (index, k) in table.joins[0], (index, k + 1) in table.joins[1]
    said = bite_said(build, motif, row, bites, k) if bites else turn_said(build, motif, row)
    cost = table.cost[index]
    return replace(
        common,
        say=said,
        more=_more(bool(under), begins, ends, bool(row.closed and to == 0 and row.up is None and bites)),
        lap=1 + k * row.laps // max(1, common.of_bites or 1),
        bite=k + 1,
        at=there.at if there else motif.place,
        origin=there.origin if there else None,
        mm=round(there.mm, 2) if there else None,
        strip=there.strip if there else None,
        under=under,
        over=over,
        eye_first=bool(under),
        xyz=_xyz(motif.frame @ row.places[to]) if there else _xyz(build.laid.start[first]),
        arcs=(first, last),
        join="end" if ends else "begin" if begins else None,
        uses=float(cost[min(k, len(cost) - 1)]),
        work=_work(table, index, span, begins),
    )


def _work(table: _Table, index: int, span: int, begins: bool) -> Amounts:
    """The row's work shared out: thread by its length, passes by the threads passed, the rest evenly."""
    row = {kind: float(amounts[index]) for kind, amounts in table.work.rows.items()}
    spans = table.span_edges[index + 1] - table.span_edges[index]
    passed = table.passed[table.span_edges[index] : table.span_edges[index + 1]]
    ball, laid = table.work.build.ball, table.work.build.laid
    mine = slice(table.arc_edges[span], table.arc_edges[span + 1])
    return {
        "bites": row["bites"] / spans,
        "turning": row["turning"] / spans,
        "laying": ball.mm(float(laid.length[mine].sum())) / 1000,
        "under": row["under"] * float(table.passed[span]) / max(1.0, float(passed.sum())),
        "starts": float(begins),
    }


def _more(under: bool, begins: bool, ends: bool, closes: bool) -> str:
    words = [
        "A new working length begins here: run it in under the wrap first." if begins else "",
        EYE_FIRST if under else "",
        "Draw it in so that its two legs lie as at every other bite." if closes else "",
        "This working length ends here: run it under the wrap, come up, and cut it close." if ends else "",
    ]
    return " ".join(filter(None, words))


def _xyz(at: np.ndarray[tuple[int, ...], np.dtype[np.float64]]) -> tuple[float, float, float]:
    x, y, z = (round(float(value), 5) + 0.0 for value in at)
    return x, y, z
