"""A finding, and the parts of a build that checks look at.

In: nothing.  Out: ``Finding``, and ``Made``, which a build fulfils.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import groupby
from typing import Any, Literal, Protocol

import numpy as np

from polestitch.ball.measured import Roundness
from polestitch.document.rows import row_list
from polestitch.document.said import near_length
from polestitch.laying.built import Stitched
from polestitch.laying.chosen import Met
from polestitch.laying.cover import Cover
from polestitch.laying.weave import Relation
from polestitch.sphere.arcs import Points
from polestitch.stitching.motifs import Motif

Severity = Literal["note", "care", "stop"]
Spot = tuple[float, float, float]  # on the unit sphere


@dataclass(frozen=True)
class Finding:
    """One thing to know (note), to decide (care) or to change (stop) before stitching.

    ``sentence`` says what happens, why, and what to do.  ``remedy`` is one change of the document
    that would cure it: ``{"path": "layers[0].rows", "value": "8 navy"}``.  ``address`` names the worst
    place, ``at`` is the very spot.
    """

    kind: str
    severity: Severity
    sentence: str
    layer: int | None = None
    row: int | None = None
    address: str | None = None
    remedy: dict[str, Any] | None = None
    at: Spot | None = None


class Made(Stitched, Protocol):
    """What checks read of a build."""

    @property
    def relation(self) -> Relation:
        """Which rule says so, and where rules fail."""

    @property
    def by_hand(self) -> tuple[Met, ...]:
        """Crossings she settled herself."""

    @property
    def cover(self) -> Cover:
        """Ground covered, and threads on one spot."""

    @property
    def roundness(self) -> Roundness:
        """What was measured."""


def by_layer(made: Made) -> Iterator[tuple[int, list[Motif]]]:
    """Layers with their motifs; motifs that share their rows are alike and stand here once."""
    for layer, motifs in groupby(made.motifs, key=lambda motif: motif.layer):
        yield layer, list({id(motif.rows): motif for motif in motifs}.values())


def spot(at: Points) -> Spot:
    """The spot ``at`` (3,) as plain numbers."""
    x, y, z = (round(float(value), 6) + 0.0 for value in at)
    return x, y, z


def said(made: Made, mm: float) -> str:
    """``mm`` in the maker's units."""
    return near_length(mm, made.design.maker.units)


def rows_said(count: int) -> str:
    """``"1 row"``, ``"8 rows"``."""
    return f"{count} row{'' if count == 1 else 's'}"


def fewer_rows(made: Made, layer: int, count: int) -> dict[str, Any] | None:
    """The remedy of stopping a layer after ``count`` entries of its row list; none for no rows at all."""
    if count < 1:
        return None
    cycle = row_list(made.design.layers[layer].rows).threads
    kept = [cycle[k % len(cycle)] for k in range(count)]
    text = ", ".join(f"{len(list(same))} {name}" for name, same in groupby(kept))
    return {"path": f"layers[{layer}].rows", "value": text}


def nearest_name(made: Made, at: Points) -> str:
    """Name of the marked point nearest to ``at`` (3,)."""
    points = made.marking.points
    return points[int(np.argmax(made.marking.xyz @ at))].name
