"""From a document to a ball with everything laid on it, stage by stage.

In: a ``Design``.  Out: a ``Build``, which every product reads.
"""

from dataclasses import dataclass
from functools import cached_property

from polestitch.ball.ball import Ball
from polestitch.ball.measured import Roundness, ball_of, roundness
from polestitch.document.design import Design
from polestitch.fit import rows_until
from polestitch.laying.cover import Cover, cover
from polestitch.laying.crossings import Crossings, crossings
from polestitch.laying.laid import Laid
from polestitch.laying.lay import lay
from polestitch.laying.weave import Flags, UnderRule, over
from polestitch.marking.divisions import marked
from polestitch.marking.marking import Marking
from polestitch.marking.support import supported
from polestitch.stitching.motifs import Motif, motifs
from polestitch.stitching.schedule import Work, schedule


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

    @cached_property
    def cover(self) -> Cover:
        """How much of the ground is covered, and how high the threads lie."""
        return cover(self.laid)

    @cached_property
    def roundness(self) -> Roundness:
        """What her measurements say of the ball."""
        return roundness(self.design.ball)


def build(design: Design) -> Build:
    """Every stage once; ``DesignError`` names the place in the document that cannot be made."""
    ball = ball_of(design.ball)
    marking = supported(marked(design.marking.division), design.marking.support, ball)
    motifs_ = motifs(design, marking, ball, rows_until)
    order = schedule(design.layers, motifs_)
    laid = lay(motifs_, order)
    met = crossings(laid)
    return Build(design, ball, marking, motifs_, order, laid, met, over(laid, met, unders(design)))


def unders(design: Design) -> tuple[UnderRule, ...]:
    """The document's under rules by layer index."""
    index = {layer.name: k for k, layer in enumerate(design.layers)}
    return tuple(
        UnderRule(k, index[under.layer], under.rule) for k, layer in enumerate(design.layers) for under in layer.under
    )
