"""How far motifs reach: past a line, past a centre, over their own middle; tips and centres too tight.

In: a build.  Out: findings.
"""

from collections.abc import Iterator
from math import floor, gcd
from typing import NamedTuple

import numpy as np

from polestitch.checks.finding import Finding, Made, Severity, by_layer, fewer_rows, rows_said, said, spot
from polestitch.sphere.arcs import Points, arc_angle, unit
from polestitch.stitching.motifs import Motif
from polestitch.stitching.stitches import Row
from polestitch.stitching.technique import params

# Radians: a micrometre on the largest ball.
SAME = 1e-8
# Her own step at a tip of size 5 pearl cotton is about 2 mm, 2.8 of its widths (published practice).
STRETCH_WIDTHS = 2.8


class _Over(NamedTuple):
    """The first row that reaches too far, how far in the end, on which guideline, and where that is in the motif."""

    row: Row
    beyond: float
    spoke: int
    at: Points


def overruns(made: Made) -> Iterator[Finding]:
    """Tips beyond the line's end or the neighbouring centre, corners stepped over their own middle."""
    for layer, motifs in by_layer(made):
        for found in (_over_middle(made, layer, motifs), _over_edge(made, layer, motifs)):
            if found is not None:
                yield found
                break


def _over_middle(made: Made, layer: int, motifs: list[Motif]) -> Finding | None:
    for motif in motifs:
        for row in motif.rows:
            if (
                motif.site.kind == "centre"
                and row.turn is None
                and row.up is None
                and np.any(_along(motif, row) < SAME)
            ):
                name = made.design.layers[layer].name
                sentence = (
                    f'Row {row.number} of "{name}" steps over its own centre, {motif.place}: nothing is left to fill. '
                    f"Take {rows_said(row.plan)}, or start further out."
                )
                remedy = fewer_rows(made, layer, row.plan)
                return Finding("overrun", "stop", sentence, layer, row.number, motif.place, remedy, spot(motif.middle))
    return None


def _along(motif: Motif, row: Row) -> np.ndarray[tuple[int], np.dtype[np.float64]]:
    """(b,) how far each bite lies from the middle along its own guideline, negative beyond the middle."""
    azimuth = motif.site.azimuths[_indices(motif, row)]
    x = np.cos(azimuth) * row.places[:, 0] + np.sin(azimuth) * row.places[:, 1]
    return np.asarray(np.arctan2(x, row.places[:, 2]))


def _indices(motif: Motif, row: Row) -> list[int]:
    index = {number: k for k, number in enumerate(motif.site.numbers)}
    return [index[number] for number in row.spokes]


def _over_edge(made: Made, layer: int, motifs: list[Motif]) -> Finding | None:
    over = [(motif, first) for motif in motifs if (first := _first_over(motif)) is not None]
    return _overrun(made, *max(over, key=lambda one: one[1].beyond)) if over else None


def _first_over(motif: Motif) -> _Over | None:
    if motif.site.kind not in ("centre", "arc"):
        return None
    first, most, spoke, at = None, 0.0, 0, motif.rows[0].places[0]
    for row in motif.rows:
        beyond = np.where(row.wide, -1.0, _along(motif, row) - motif.site.reaches[_indices(motif, row)])
        worst = int(np.argmax(beyond))
        if beyond[worst] > SAME:
            first = first or row
            if beyond[worst] > most:
                most, spoke, at = float(beyond[worst]), row.spokes[worst], row.places[worst]
    return None if first is None else _Over(first, most, spoke, at)


def _overrun(made: Made, motif: Motif, over: _Over) -> Finding:
    layer = made.design.layers[motif.layer]
    edge, past = _edge(made, motif, over.spoke), said(made, made.ball.mm(over.beyond))
    fewer = f"Take {rows_said(over.row.plan)}" if over.row.plan else "Start nearer to the middle"
    sentence = (
        f'"{layer.name}" runs past {edge} from row {over.row.number} on, in the end by {past}: '
        f"its tips lie on the ground of what is beyond. {fewer}, unless you want the two sides to interlock."
    )
    severity: Severity = "care"
    if any(under.layer == layer.name and under.rule == "interlocked" for under in layer.under):
        severity = "note"
        sentence = (
            f'"{layer.name}" reaches past {edge} from row {over.row.number} on, in the end by {past}: '
            "there it interlocks with its neighbours, as you ask."
        )
    elif layer.combine == "layered" and sum(one.layer == motif.layer for one in made.motifs) > 1:
        severity = "note"
        sentence = (
            f'"{layer.name}" reaches past {edge} from row {over.row.number} on, in the end by {past}: '
            "there it runs into its neighbours row by row, as work in layers does."
        )
    if _past_centre(made, motif, over):
        severity = "stop"
        sentence = (
            f'"{layer.name}" runs past the neighbouring centre, {past} beyond {edge}: the motifs cannot both be '
            f"stitched there. {fewer}, or use a finer thread."
        )
    remedy = fewer_rows(made, motif.layer, over.row.plan)
    at = spot(motif.frame @ over.at)
    return Finding("overrun", severity, sentence, motif.layer, over.row.number, motif.place, remedy, at)


def _edge(made: Made, motif: Motif, spoke: int) -> str:
    """What the guideline ends at, in words."""
    if motif.site.kind == "arc":
        return f"the end of {motif.place}"
    ends = {line.number: line.end for line in made.marking.spokes.get(motif.place, ())}
    end = ends.get(spoke, "the end of its line")
    return "the obi" if end.startswith("obi") else end


def _past_centre(made: Made, motif: Motif, over: _Over) -> bool:
    others = [point.at for point in made.marking.of_kind("centre") if point.name != motif.place]
    if motif.site.kind != "centre" or not others:
        return False
    reach = float(motif.site.reaches[motif.site.numbers.index(over.spoke)])
    return bool(reach + over.beyond > arc_angle(np.stack(others), motif.middle).min() - SAME)


def crowded_centres(made: Made) -> Iterator[Finding]:
    """Gathering bites so wide that they reach beyond half way to their neighbours."""
    for layer, motifs in by_layer(made):
        crowded = [(motif, row, pair) for motif in motifs for row in motif.rows if (pair := _crowding(row))]
        if not crowded:
            continue
        first = min(row.number for _, row, _ in crowded)
        motif, row, pair = max(crowded, key=lambda one: one[2].over)
        name, over = made.design.layers[layer].name, said(made, made.ball.mm(pair.over))
        plan = motif.rows[first - 1].plan
        sentence = (
            f'The inner bites of "{name}" reach beyond half way to their neighbours from row {first} on, by {over} in '
            f"row {row.number} at {motif.place}: petals overlap and threads pile up there. "
            "Set the inner bites further out, or take fewer rows."
        )
        remedy, at = fewer_rows(made, layer, plan), spot(motif.frame @ pair.at)
        yield Finding("crowded centre", "care", sentence, layer, first, motif.place, remedy, at)


class _Crowding(NamedTuple):
    """By how much (radians) two neighbouring bites overlap, and the spot (3,) half way between them."""

    over: float
    at: Points


def _crowding(row: Row) -> _Crowding | None:
    """The two gathering bites on neighbouring guidelines that overlap most; over two laps each stands once."""
    kept = np.flatnonzero(row.wide)
    if row.laps > 1:
        kept = kept[np.unique(np.round(row.places[kept], 9), axis=0, return_index=True)[1]]
    places, half = row.places[kept], row.half[kept]
    order = np.argsort(np.arctan2(places[:, 1], places[:, 0]))
    places, half = places[order], half[order]
    after = np.roll(places, -1, axis=0)
    over = half + np.roll(half, -1) - arc_angle(places, after)
    worst = int(np.argmax(over)) if len(places) > 1 else 0
    crowded = len(places) > 1 and over[worst] > SAME
    return _Crowding(float(over[worst]), unit(places[worst] + after[worst])) if crowded else None


def blunt_tips(made: Made) -> Iterator[Finding]:
    """Tips where the maker's stretch is less than one thread: they cannot grow to a point."""
    for layer, motifs in by_layer(made):
        for motif in motifs:
            widest = max((row.pitch for row in motif.rows if row.narrow.any()), default=0.0)
            if widest > motif.site.stretch + SAME:
                yield _blunt(made, layer, motif, widest)
                return  # one setting, one finding


def _blunt(made: Made, layer: int, motif: Motif, widest: float) -> Finding:
    stretch, width = said(made, made.ball.mm(motif.site.stretch)), said(made, made.ball.mm(widest))
    better = floor(2 * STRETCH_WIDTHS * made.ball.mm(widest) + 0.5) / 2
    sentence = (
        f'Your stretch of {stretch} is less than one thread ({width}): the tips of "{made.design.layers[layer].name}" '
        f"come out blunt and pop up onto the rows before. Step about {said(made, better)} at each tip."
    )
    mine = made.design.maker.measures
    path = "maker.stretch" if mine is None or mine.step is None else "maker.measures.step.length"
    last = next(row for row in reversed(motif.rows) if row.narrow.any())
    at = spot(motif.frame @ last.places[int(np.argmax(last.narrow))])
    remedy = {"path": path, "value": f"{better:g} mm"}
    return Finding("blunt tip", "care", sentence, layer, None, motif.place, remedy, at)


def partial_paths(made: Made) -> Iterator[Finding]:
    """Star paths whose step shares a factor with their points: a row comes home before it has met them all."""
    for layer, _ in by_layer(made):
        entry = made.design.layers[layer]
        read = params(entry.technique, entry.params, "params")
        points, step = (
            int(getattr(read, name, None) or 1) for name in ("points" if hasattr(read, "points") else "corners", "step")
        )
        share = gcd(points, step)
        if share > 1:
            sentence = (
                f'A row of "{entry.name}" comes home after {points // share} of its {points} points, because '
                f"{points} and {step} share the factor {share}. Add {share - 1} more layer{'s' * (share > 2)} "
                "started one line further on, or change the step."
            )
            yield Finding("path does not close", "care", sentence, layer, remedy=_closing_step(layer, points, step))


def _closing_step(layer: int, points: int, step: int) -> dict[str, object] | None:
    """The nearest step that reaches every point, if there is one."""
    fits = [k for k in range(2, (points + 1) // 2) if gcd(points, k) == 1]
    return {"path": f"layers[{layer}].params.step", "value": min(fits, key=lambda k: abs(k - step))} if fits else None
