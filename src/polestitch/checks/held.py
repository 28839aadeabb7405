"""Whether everything stays where it is wound: which turns would slide, and what holds them.

In: a build.  Out: findings.
"""

from collections.abc import Iterator, Sequence

import numpy as np

from polestitch.checks.finding import Finding, Made, said
from polestitch.document.said import listed
from polestitch.laying.slip import Sliding, slides, slipping

# A free stretch no longer than this needs no pin; published: pins every 2 to 3 cm
# (temarikai.com/PatternsPages/SimplePg2/JD03.html).
PIN_REACH_MM = 25.0


def slipping_turns(made: Made) -> Iterator[Finding]:
    """Layers with turns that friction alone does not hold, and what locks them in the end."""
    if not len(slipping(made.laid, made.design.maker.friction)):
        return
    reach = made.ball.angle(PIN_REACH_MM)
    found = slides(made.laid, made.crossings, made.over, made.design.maker.friction, reach)
    layers = made.laid.row_layer[[slide.row for slide in found]] if found else np.zeros(0, np.int32)
    for layer in np.unique(layers).tolist():
        here = [slide for slide, of in zip(found, layers.tolist()) if of == layer]
        yield _slipping(made, layer, here)


def _slipping(made: Made, layer: int, here: Sequence[Sliding]) -> Finding:
    first = here[0]
    row, name = int(made.laid.row_number[first.row]), made.design.layers[layer].name
    free = [slide for slide in here if slide.locked_by is None]
    many = "One turn" if len(here) == 1 else f"{len(here)} turns"
    pins = max(slide.keeper_pins for slide in here)
    why = (
        f'{many} of "{name}" would slide off, the first at row {row}: so far from a great circle the pull sideways is '
        f"{max(slide.tendency for slide in here):.2f} of the pull inward, and your friction is "
        f"{made.design.maker.friction:g}. Set {pins} keeper pins along each"
    )
    if free:
        gap = said(made, made.ball.mm(max(slide.largest_gap for slide in free)))
        what = (
            f", but nothing stitched later holds {'it' if len(free) == 1 else f'{len(free)} of them'} everywhere: "
            f"{gap} stays free. Add tie stitches or a zigzag across, or take fewer turns."
        )
        return Finding("band slips", "care", why + what, layer, row, _place(made, first))
    locked = {
        made.design.layers[int(made.laid.row_layer[slide.locked_by])].name
        for slide in here
        if slide.locked_by is not None
    }
    others = sorted(locked - {name})
    after = f" until {listed(others)} {'is' if len(others) == 1 else 'are'} stitched across" if others else ""
    return Finding("band slips", "note", f"{why}{after}, then take them out.", layer, row, _place(made, first))


def _place(made: Made, slide: Sliding) -> str:
    layer, number = int(made.laid.row_layer[slide.row]), int(made.laid.row_motif[slide.row]) + 1
    return next(motif.place for motif in made.motifs if motif.layer == layer and motif.number == number)
