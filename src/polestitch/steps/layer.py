"""Steps of one layer: what it is, in which order its places are worked, and its rows.

In: a build and a layer's index.  Out: lines of instruction.
"""

from collections.abc import Callable, Hashable, Iterator

import numpy as np

from polestitch.document.said import in_short, listed, near_length
from polestitch.laying.built import Stitched
from polestitch.steps.along import arc_lines
from polestitch.steps.around import centre_lines
from polestitch.steps.circle import circle_lines
from polestitch.steps.corners import the
from polestitch.steps.journey import journey_lines, travels
from polestitch.steps.needle import needle_lines
from polestitch.steps.poles import pole_lines
from polestitch.steps.roaming import ball_lines
from polestitch.steps.step import Line
from polestitch.steps.strokes import stroke_lines
from polestitch.steps.weaving import spindle_weave_lines, weave_lines
from polestitch.steps.wound import band_lines
from polestitch.stitching.motifs import Motif
from polestitch.stitching.technique import technique

UNDER = {
    "all": "Wherever this thread meets {name}, pass the needle under it, eye first.",
    "under first": "Where this thread meets {name}, go under it the first time, over it the next, and so on by turns.",
    "every second": "Where this thread meets {name}, go over one thread and under the next, all the way.",
    "interlocked": "Interlock it with {name}: go under where you enter one of them, and over where you leave it.",
    "woven": "Weave it with {name}, thread by thread: over one, under the next, and each row the other way about.",
    "woven bands": "Weave it with {name} in bands: over one band and under the next, rows beside each other alike.",
    "pattern": "Where this thread meets {name}, take one group after the other like this: {letters}, and again.",
    "over first": "Where this thread meets {name}, go over it the first time, under it the next, and so on by turns.",
}


def layer_lines(made: Stitched, layer: int) -> Iterator[Line]:
    """Everything to do for this layer; for left-handed work the sides are swapped."""
    motifs = [motif for motif in made.motifs if motif.layer == layer]
    if not motifs:
        return
    yield Line(_introduction(made, layer))
    yield from _order(made, layer, [motif.place for motif in motifs])
    yield from _unders(made, layer)
    kinds = _kinds(motifs)
    for n, alike in enumerate(kinds):
        if len(kinds) > 1:
            yield Line(f"{'First' if n == 0 else 'Then'} for {listed([motif.place for motif in alike])}.")
        lines = journey_lines if travels(made, alike[0]) else _lines_for(alike[0])
        yield from lines(made, alike[0])
        yield from _others(alike)


def _introduction(made: Stitched, layer: int) -> str:
    """The technique in its own first sentence."""
    text = " ".join(technique(made.design.layers[layer].technique).__doc__.split("\n\n")[0].split())
    return text.split(". ")[0].rstrip(".") + "."


def _kinds(motifs: list[Motif]) -> list[list[Motif]]:
    """Motifs that are worked alike, together; only the numbers of their lines may differ."""
    alike: dict[Hashable, list[Motif]] = {}
    for motif in motifs:
        alike.setdefault(_likeness(motif), []).append(motif)
    return list(alike.values())


def _likeness(motif: Motif) -> Hashable:
    """What a hand can tell apart: where each row's bites stand in the motif's own frame, and the colours."""
    places = tuple((np.round(row.places, 5) + 0.0).tobytes() for row in motif.rows)
    return motif.site.kind, motif.threads, places


def _others(alike: list[Motif]) -> Iterator[Line]:
    """The places not told in full, and how their lines are counted where that differs."""
    first, others = alike[0], alike[1:]
    if others:
        yield Line(f"Work the same at {in_short([the(motif.place) for motif in others])}.")
    for motif in others:
        spokes = motif.rows[0].spokes
        if spokes and spokes != first.rows[0].spokes and motif.site.kind == "centre":
            go_on = f"; then come lines {listed([str(number) for number in spokes[1:3]])}"
            # Separate strokes do not go from line to line.
            go_on = "" if motif.rows[0].up is not None else go_on
            yield Line(f"At {motif.place} start on line {spokes[0]}{go_on}.", motif.place)


def _lines_for(motif: Motif) -> Callable[[Stitched, Motif], Iterator[Line]]:
    if motif.rows[0].turn is None and motif.rows[-1].turn is not None:
        return spindle_weave_lines
    if motif.rows[0].turn is not None:
        return weave_lines if motif.site.kind == "ball" else band_lines
    if motif.rows[0].up is not None:
        return stroke_lines
    lines = {
        "centre": centre_lines,
        "arc": arc_lines,
        "circle": circle_lines,
        "poles": pole_lines,
        "ball": ball_lines,
    }
    return lines[motif.site.kind]


def _order(made: Stitched, layer: int, places: list[str]) -> Iterator[Line]:
    entry = made.design.layers[layer]
    partners = [other.name for other in made.design.layers if other.together and other.together == entry.together]
    if len(places) > 1:
        called = [the(place) for place in places]
        yield Line(f"Work at {len(places)} places, in this order: {in_short(called)}. Number them with coloured pins.")
    if len(partners) > 1:
        rows = [f"row 1 of {name}" for name in partners]
        yield Line(f"Take turns: {', then '.join(rows)}, each at every place; then row 2 of each, and so on.")
    elif len(places) > 1 and entry.combine == "layered":
        yield Line("Work row 1 at every place in that order, then row 2 in the same order, and so on.")
    elif len(places) > 1:
        yield Line("Finish all rows at one place before you begin the next.")
    if len(places) > 1 and (len(partners) > 1 or entry.combine == "layered"):
        yield Line(_between(made))


def _between(made: Stitched) -> str:
    maker = made.design.maker
    near = near_length(2 * (maker.ends.mm or 0.0), maker.units)
    return (
        f"From place to place run the thread under the wrap if it is less than {near}. If not, end it and start anew."
    )


def _unders(made: Stitched, layer: int) -> Iterator[Line]:
    entry = made.design.layers[layer]
    for under in entry.under:
        name = "the other motifs of this layer" if under.layer == entry.name else under.layer
        letters = ", ".join({"O": "over", "U": "under"}[c] for c in under.rule.removeprefix("pattern ") if c in "OU")
        rule = "pattern" if under.rule.startswith("pattern") else under.rule
        yield Line(UNDER[rule].format(name=name, letters=letters))
    yield from needle_lines(made, layer)
