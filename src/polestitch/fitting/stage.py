"""One layer made ready to be stitched with any number of rows, without laying the whole ball.

In: a document.  Out: ``Stage``: the layer's repeats (one for each sort of place) on their seats.
"""

import json
from collections.abc import Sequence
from copy import deepcopy
from dataclasses import dataclass, replace
from functools import cached_property
from typing import Any

from polestitch.ball.ball import Ball
from polestitch.ball.measured import ball_of
from polestitch.document.codec import read
from polestitch.document.design import Design
from polestitch.document.rows import RowList, row_list
from polestitch.errors import DesignError
from polestitch.fit import rows_until
from polestitch.marking.divisions import marked
from polestitch.marking.marking import Marking
from polestitch.marking.support import supported
from polestitch.stitching.motifs import Palette, Repeat, palette
from polestitch.stitching.seats import Seat, seats
from polestitch.stitching.stitches import Row
from polestitch.stitching.technique import params as params_of
from polestitch.stitching.technique import technique

Document = dict[str, Any]


def design_of(document: Document) -> Design:
    """The document read as a file would be; ``DesignError`` as there."""
    return read(json.dumps(document), "the design")


@dataclass(frozen=True, eq=False)
class Stage:
    """One layer on its seats."""

    ground: "Ground"
    index: int
    plan: RowList
    places: tuple[Seat, ...]
    repeats: tuple[Repeat, ...]  # one for each sort of place

    @property
    def name(self) -> str:
        """The layer's name."""
        return self.ground.design.layers[self.index].name

    def count(self, repeat: Repeat) -> int:
        """How many rows the document asks for here."""
        if self.plan.until is None:
            return len(self.plan.threads)
        return rows_until(repeat, self.plan.until, self.ground.marking)

    def rows(self, repeat: Repeat, threads: Sequence[str] | None = None, pitch: float = 1.0) -> tuple[Row, ...]:
        """The repeat's rows as written, or with these threads; every thread ``pitch`` times as wide."""
        named = self.plan.threads if threads is None else threads
        widths = tuple(pitch * self.ground.palette.pitch[self.ground.palette.index[name]] for name in named)
        wide = replace(repeat, widths=widths)
        return wide.rows(len(widths) if threads is not None else self.count(wide))


@dataclass(frozen=True, eq=False)
class Ground:
    """A document's marked ball, on which its layers are staged one by one."""

    design: Design

    @cached_property
    def ball(self) -> Ball:
        """The ball to plan with."""
        return ball_of(self.design.ball)

    @cached_property
    def marking(self) -> Marking:
        """Its marking with the support lines."""
        return supported(marked(self.design.marking.division), self.design.marking.support, self.ball)

    @cached_property
    def palette(self) -> Palette:
        """Its threads."""
        return palette(self.design, self.ball)

    def stage(self, index: int) -> Stage:
        """Layer ``index``; ``DesignError`` names it where it cannot be made."""
        layer = self.design.layers[index]
        try:
            craft = technique(layer.technique)
            params = params_of(layer.technique, layer.params, "params")
            places = seats(craft.PLACE, layer, self.marking, self.ball, self.design.maker)
        except DesignError as error:
            raise DesignError(f"layers[{index}].{error.where}".rstrip("."), error.what) from None
        plan = row_list(layer.rows)
        widths = tuple(self.palette.pitch[self.palette.index[name]] for name in plan.threads)
        alike = {seat.likeness: seat for seat in reversed(places)}
        repeats = [
            Repeat(craft, params, widths, seat, tuple(other for other in places if other is not seat), places[0])
            for seat in reversed(alike.values())
        ]
        return Stage(self, index, plan, places, tuple(repeats))


def ground_of(document: Document) -> Ground:
    """The ground of a document; ``DesignError`` where the document is not right."""
    return Ground(design_of(document))


def planned(document: Document, around: str) -> Document:
    """The document as written, on a ball ``around``; what she measured before is left out."""
    changed = deepcopy(document)
    changed["ball"] = {key: value for key, value in document["ball"].items() if key != "measured"} | {"around": around}
    return changed
