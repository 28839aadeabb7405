"""Motifs: one technique worked at one place, in its own frame, and the frames that put it on the ball.

In: the document's layers, the marking and the ball.  Out: ``Motif`` records with their rows.  Places
that look alike in their own frames are stitched once and share the rows.
"""

from dataclasses import dataclass, replace
from typing import Protocol

import numpy as np
from pydantic import BaseModel

from polestitch.ball.ball import Ball
from polestitch.document.design import Design, Layer, Maker
from polestitch.document.rows import RowList, row_list
from polestitch.document.threads import pitch_mm
from polestitch.errors import DesignError
from polestitch.marking.marking import Marking
from polestitch.sphere.arcs import Points
from polestitch.stitching.doubled import apart
from polestitch.stitching.seats import Seat, every_turn, seats
from polestitch.stitching.site import Site
from polestitch.stitching.stitches import Row
from polestitch.stitching.technique import Technique, technique
from polestitch.stitching.technique import params as params_of


@dataclass(frozen=True, eq=False)
class Motif:
    """One technique at one place.

    ``frame`` (3, 3) takes vectors of the motif's frame to the ball; its determinant is -1 where the
    work is mirrored.  ``threads`` and ``rows`` go together.
    """

    layer: int
    number: int  # 1-based in its layer
    place: str
    site: Site
    frame: Points
    rows: tuple[Row, ...]
    threads: tuple[int, ...]  # (rows,) index into design.threads
    reaches: str | None  # what the last row reaches, where the document says "until …"

    @property
    def middle(self) -> Points:
        """(3,) the motif's middle on the ball; for a circle its own pole."""
        return np.asarray(self.frame[:, 2])


@dataclass(frozen=True)
class Palette:
    """Thread names to index, and pitch in radians by index."""

    index: dict[str, int]
    pitch: tuple[float, ...]


@dataclass(frozen=True, eq=False)
class Repeat:
    """A technique ready to stitch at one seat with its colours over and over, for whoever counts the rows."""

    craft: Technique
    params: BaseModel
    widths: tuple[float, ...]  # one cycle of pitches
    seat: Seat
    others: tuple[Seat, ...]  # the layer's other seats
    first: Seat  # of the layer: "until centre 2" is measured there

    def rows(self, count: int) -> tuple[Row, ...]:
        """The rows for the first ``count`` entries of the repeated row list."""
        pitches = [self.widths[k % len(self.widths)] for k in range(count)]
        return tuple(self.craft.stitch(self.seat.site, self.params, pitches))


class RowCounter(Protocol):
    """Finds how many rows of a repeat fit until a target; laying decides, so it comes from outside."""

    def __call__(self, repeat: Repeat, target: str, marking: Marking) -> int:
        """Number of row-list entries, at least one; ``DesignError`` at ``rows`` where none fits."""


@dataclass(frozen=True, eq=False)
class Ground:
    """What every layer is worked on."""

    marking: Marking
    ball: Ball
    maker: Maker
    threads: Palette
    count_rows: RowCounter


def palette(design: Design, ball: Ball) -> Palette:
    """Every thread's index by name, and its pitch on this ball."""
    return Palette(
        {thread.name: k for k, thread in enumerate(design.threads)},
        tuple(ball.angle(pitch_mm(thread, measures=design.maker.measures).mm) for thread in design.threads),
    )


def motifs(design: Design, marking: Marking, ball: Ball, count_rows: RowCounter) -> tuple[Motif, ...]:
    """All motifs of all layers, in document order; ``DesignError`` names the layer that can't be made."""
    ground = Ground(marking, ball, design.maker, palette(design, ball), count_rows)
    made: list[Motif] = []
    for k, layer in enumerate(design.layers):
        try:
            made.extend(_of_layer(k, layer, ground))
        except DesignError as error:
            raise DesignError(f"layers[{k}].{error.where}".rstrip("."), error.what) from None
    return tuple(made)


def _of_layer(k: int, layer: Layer, ground: Ground) -> list[Motif]:
    craft = technique(layer.technique)
    params = params_of(layer.technique, layer.params, "params")
    places = seats(craft.PLACE, layer, ground.marking, ground.ball, ground.maker)
    plan = _plan(layer)
    colours = [ground.threads.index[name] for name in plan.threads]
    widths = tuple(ground.threads.pitch[colour] for colour in colours)
    alike: dict[bytes, tuple[Row, ...]] = {}
    made = []
    for number, seat in enumerate(places, 1):
        if seat.likeness not in alike:
            others = tuple(other for other in places if other is not seat)
            repeat = Repeat(craft, params, widths, seat, others, places[0])
            count = len(widths) if plan.until is None else ground.count_rows(repeat, plan.until, ground.marking)
            alike[seat.likeness] = repeat.rows(count)
        rows = alike[seat.likeness]
        used = tuple(colours[row.plan % len(colours)] for row in rows)
        made.append(Motif(k, number, seat.name, seat.site, seat.frame, rows, used, plan.until))
    return _once(made) if every_turn(layer) else made


def _once(made: list[Motif]) -> list[Motif]:
    """No motif that lies on another; what is left is numbered anew."""
    kept = apart([motif.frame for motif in made], [motif.rows for motif in made])
    return [replace(made[k], number=number) for number, k in enumerate(kept, 1)]


def _plan(layer: Layer) -> RowList:
    try:
        return row_list(layer.rows)
    except ValueError as error:
        raise DesignError("rows", str(error)) from None
