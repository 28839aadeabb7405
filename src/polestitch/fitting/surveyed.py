"""What pins that are off do to the motifs: the least gap between neighbours as it would come out, and as it should be.

In: a document and a survey of its pins.  Out: one ``MotifGap`` a layer whose motifs have neighbours.

A motif follows the pins beside it: every point of its outline is carried along as the pins near it stand, the nearest
most (shares by the fourth power of distance; our choice).  So it is told as an estimate.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace

import numpy as np

from polestitch.document.design import Design
from polestitch.errors import DesignError
from polestitch.fitting.outline import Outline, beside, gap, outlines
from polestitch.fitting.stage import Ground
from polestitch.sphere.arcs import Points, arc_angle, unit
from polestitch.survey.survey import Survey

CARRIERS, SHARPNESS = 6, 4
MOST_PAIRS = 400
NO_NEIGHBOURS = ("ball", "poles", "circle")


@dataclass(frozen=True)
class MotifGap:
    """Two motifs of a layer: what lies between their threads now, and what should; less than 0 overlaps."""

    layer: str
    first: str
    second: str
    mm: float
    wanted_mm: float


def motif_gaps(design: Design, found: Survey) -> tuple[MotifGap, ...]:
    """The tightest pair of each layer as the pins stand; layers that cannot be staged alone are left out."""
    ground, carried = Ground(design), _Carried(found)
    told = []
    for index in range(len(design.layers)):
        pairs = list(_gaps(ground, index, carried))
        if pairs:
            told.append(min(pairs, key=lambda one: (round(one.mm, 6), one.first, one.second)))
    return tuple(told)


def _gaps(ground: Ground, index: int, carried: "_Carried") -> Iterator[MotifGap]:
    try:
        stage = ground.stage(index)
        own = () if stage.repeats[0].seat.site.kind in NO_NEIGHBOURS else outlines(stage)
    except DesignError:
        return
    moved = {one.name: carried.outline(one) for one in own}
    pairs = {}
    for one in own:
        for other in beside(one, [each for each in own if each is not one]) if len(own) > 1 else ():
            pairs[frozenset((one.name, other.name))] = (one, other)
    mm = ground.ball.mm
    for one, other in list(pairs.values())[:MOST_PAIRS]:
        now = gap(moved[one.name], moved[other.name])
        yield MotifGap(stage.name, one.name, other.name, mm(now), mm(gap(one, other)))


class _Carried:
    """Points of the design carried to where the pins have them."""

    def __init__(self, found: Survey) -> None:
        known = found.turned.known
        at, target = found.laid
        self._wanted, self._off = found.network.wanted[known], (at - target)[known]

    def points(self, points: Points) -> Points:
        """(n, 3) unit vectors."""
        apart = np.asarray(arc_angle(points[:, None], self._wanted[None]))
        near = np.argsort(apart, axis=1, kind="stable")[:, :CARRIERS]
        shares = np.maximum(np.take_along_axis(apart, near, axis=1), 1e-9) ** -SHARPNESS
        shares /= shares.sum(axis=1, keepdims=True)
        return np.asarray(unit(points + np.einsum("nk,nkj->nj", shares, self._off[near])))

    def outline(self, one: Outline) -> Outline:
        """A motif carried along."""
        if not len(one.begin):
            return one
        middle = self.points(one.middle[None])[0]
        return replace(one, middle=middle, begin=self.points(one.begin), end=self.points(one.end))
