"""From a document to a ball with everything laid on it, stage by stage.

In: a ``Design``.  Out: a ``Build``, which every product reads.
"""

import math
from dataclasses import dataclass, replace
from functools import cached_property
from typing import NamedTuple

import numpy as np

from polestitch.ball.ball import Ball
from polestitch.ball.measured import Roundness, ball_of, roundness
from polestitch.document.design import Design
from polestitch.errors import DesignError
from polestitch.fit import rows_until
from polestitch.laying.chosen import Met, as_chosen, met
from polestitch.laying.cover import Cover, cover
from polestitch.laying.crossings import Crossings, crossings
from polestitch.laying.laid import Laid
from polestitch.laying.lay import lay
from polestitch.laying.marks import as_marked
from polestitch.laying.weave import Flags, Relation, UnderRule, relation
from polestitch.marking.divisions import marked
from polestitch.marking.marking import Marking
from polestitch.marking.support import supported
from polestitch.sphere.arcs import Points
from polestitch.stitching.motifs import Motif, motifs
from polestitch.stitching.schedule import Work, schedule
from polestitch.stitching.turns import turns

# Ten times the finest all-over ball of the speed goals; 40 times as many fill the memory of a common computer.
MOST_CROSSINGS = 5_000_000


@dataclass(frozen=True, eq=False)
class Build:
    """One design, built."""

    design: Design
    ball: Ball
    marking: Marking
    motifs: tuple[Motif, ...]
    order: tuple[Work, ...]
    laid: Laid
    crossings: Crossings
    over: Flags  # (k,) whether the later thread of each crossing lies on top
    by_hand: tuple[Met, ...] = ()  # crossings she settled herself

    @cached_property
    def relation(self) -> Relation:
        """Which rule says who lies on top at each crossing, and where rules fail or contradict each other."""
        return relation(self.laid, self.crossings, unders(self.design))

    @cached_property
    def cover(self) -> Cover:
        """How much of the ground is covered, and how high the threads lie."""
        return cover(self.laid)

    @cached_property
    def roundness(self) -> Roundness:
        """What her measurements say of the ball."""
        return roundness(self.design.ball)


class Worked(NamedTuple):
    """One design stitched, before its thread is laid for good and anybody asks what crosses what."""

    ball: Ball
    marking: Marking
    motifs: tuple[Motif, ...]


def worked(design: Design) -> Worked:
    """The stages up to rows of bites; ``DesignError`` names the place in the document that cannot be made."""
    ball = ball_of(design.ball)
    spec = design.marking
    marking = supported(replace(marked(spec.division), removed=spec.removed, laid=spec.laid), spec.support, ball)
    return Worked(ball, marking, motifs(design, marking, ball, rows_until))


def build(design: Design) -> Build:
    """Every stage once; ``DesignError`` names the place in the document that cannot be made."""
    ball, marking, motifs_ = worked(design)
    order = schedule(design.layers, motifs_)
    laid = lay(motifs_, order)
    _refuse_what_is_no_thread(design, laid)
    _refuse_a_tangle(laid)
    found = crossings(laid)
    ruled = as_marked(laid, found, relation(laid, found, unders(design)).over, motifs_, order)
    by_hand = tuple(met(laid, found, design.layers, motifs_, _turns(design, marking)))
    return Build(design, ball, marking, motifs_, order, laid, found, as_chosen(ruled, by_hand), by_hand)


def _turns(design: Design, marking: Marking) -> tuple[Points, ...]:
    """The turns of the marking, where a choice asks for them."""
    asked = any(one.at == "every like place" for layer in design.layers for one in layer.crossings)
    return turns(marking) if asked else ()


def _refuse_what_is_no_thread(design: Design, laid: Laid) -> None:
    """``DesignError`` at the layer of the first arc that is no number or has no length: nothing of it could be told."""
    lost = ~(np.isfinite(laid.normal).all(axis=1) & np.isfinite(laid.start).all(axis=1) & np.isfinite(laid.sweep))
    if lost.any():
        row = int(laid.arc_row[np.flatnonzero(lost)[0]])
        name = design.layers[int(laid.row_layer[row])].name
        raise DesignError(
            f"layers[{int(laid.row_layer[row])}].rows",
            f'row {int(laid.row_number[row])} of "{name}" comes out where it goes in, so there is no thread to lay; '
            "take fewer rows, or start further out",
        )


def _refuse_a_tangle(laid: Laid) -> None:
    """``DesignError`` at the layer with most thread where no ball could hold it, nor this machine its crossings.

    Thread of length T laid evenly on a unit ball crosses itself T^2 / (4 pi^2) times (integral geometry:
    two great circles meet twice in 4 pi of area).
    """
    crossings_due = float(laid.length.sum()) ** 2 / (4 * math.pi**2)
    if crossings_due > MOST_CROSSINGS:
        layers = laid.row_layer[laid.arc_row]
        most = int(np.bincount(layers, weights=laid.length).argmax())
        raise DesignError(
            f"layers[{most}].rows",
            f"lay so much thread that it would cross itself about {crossings_due / 1e6:.0f} million times; "
            "take fewer rows, fewer places or a larger ball",
        )


def unders(design: Design) -> tuple[UnderRule, ...]:
    """The document's under rules by layer index."""
    index = {layer.name: k for k, layer in enumerate(design.layers)}
    return tuple(
        UnderRule(k, index[under.layer], under.rule) for k, layer in enumerate(design.layers) for under in layer.under
    )
