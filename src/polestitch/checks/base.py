"""The ball under the stitches: how round, how finely divided, and how wide the bites.

In: a build.  Out: findings.
"""

from collections.abc import Iterator

import numpy as np

from polestitch.ball.measured import ROUND_PERCENT
from polestitch.checks.finding import Finding, Made, said, spot
from polestitch.marking.address import address
from polestitch.marking.pins import pin_plan
from polestitch.sphere.arcs import arc_angle

WIDEST_BITE_MM = 2.0  # published: temarikai.com/HowToPages/ToolKit/kagari.html
# Two pins nearer than this leave no room for the thread between them.  Common practice, no source.
NEAREST_PINS_MM = 5.0
# Fifteen circles on a ball smaller than this crowd each other.  Common practice, no source.
SMALLEST_C10_MM = 180.0
# What a promise ("until 5 mm from obi") leaves to a hand; the published tolerance is a millimetre.
HAND_MM = 1.0


def out_of_round(made: Made) -> Iterator[Finding]:
    """A ball whose measured ways differ by more than the narrowest gap the design counts on."""
    measured = made.roundness
    doubt = measured.doubt_mm(made.ball.quarter_mm)
    if measured.spread_percent <= ROUND_PERCENT:
        return
    promised = min(promises(made), default=None)
    broken = promised is not None and doubt > promised[0]
    promise = ""
    if promised is not None and broken:
        name = made.design.layers[promised[1]].name
        promise = f' "{name}" counts on {said(made, promised[0])} there, so it may not fit as planned.'
    sentence = (
        f"Your ball is {said(made, measured.spread_mm)} out of round: a place planned from pole to obi can be off by "
        f"{said(made, doubt)}.{promise} {measured.advice}"
    )
    layer = promised[1] if promised is not None and broken else None
    yield Finding("out of round", "care" if broken else "note", sentence, layer)


def promises(made: Made) -> Iterator[tuple[float, int]]:
    """What each layer that runs "until" something leaves free before it, in mm, never under a hand's own error."""
    for motif in made.motifs:
        if motif.reaches is None or motif.site.kind != "centre":
            continue
        tips = motif.rows[-1].places[~motif.rows[-1].wide]
        reach = float(motif.site.reaches.min()) - float(np.arccos(np.clip(tips[:, 2], -1, 1)).max())
        yield max(HAND_MM, made.ball.mm(max(reach, 0.0))), motif.layer


def wide_bite(made: Made) -> Iterator[Finding]:
    """A plain bite wider than makers take it."""
    bite = made.design.maker.bite.mm or 0.0
    if bite > WIDEST_BITE_MM:
        sentence = (
            f"Your plain bite is {said(made, bite)} wide: so wide a stitch shows as a bar on the guideline and pulls "
            f"the wrap together. Take {said(made, WIDEST_BITE_MM)} or less."
        )
        remedy = {"path": "maker.bite", "value": f"{WIDEST_BITE_MM:g} mm"}
        yield Finding("wide bite", "note", sentence, remedy=remedy)


def close_pins(made: Made) -> Iterator[Finding]:
    """A division so fine for this ball that pins stand in each other's way."""
    pins = [pin.point for pin in pin_plan(made.marking, made.ball, made.roundness)]
    spots = np.stack([address(made.marking, pin, made.ball).at for pin in pins])
    near = spots @ spots.T - 2 * np.eye(len(spots))
    first, second = divmod(int(near.argmax()), len(spots))
    gap = made.ball.mm(float(arc_angle(spots[first], spots[second])))
    if gap < NEAREST_PINS_MM:
        sentence = (
            f"Pins of {made.marking.division} stand {said(made, gap)} apart on this ball: the pins' own thickness "
            "spoils the spacing, and lines run into each other. Choose a coarser division, or a larger ball."
        )
        yield Finding("fine division", "care", sentence, address=pins[first], at=spot(spots[first]))
    elif made.marking.division.startswith("C10") and made.ball.around_mm < SMALLEST_C10_MM:
        sentence = (
            f"Fifteen circles on a ball of {said(made, made.ball.around_mm)} leave little ground between them. "
            "Mark with the finest thread you have, and set every pin from two others."
        )
        yield Finding("small ball", "note", sentence)
