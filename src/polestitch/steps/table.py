"""The table a maker keeps beside her: for every row its colour, and how far each corner stands from its pin.

In: a build.  Out: ``RowTable`` records, one for each layer and kind of place.
"""

from dataclasses import dataclass
from math import asin

from polestitch.laying.built import Stitched
from polestitch.marking.folds import recipe
from polestitch.steps.corners import corners
from polestitch.stitching.motifs import Motif
from polestitch.stitching.stitches import Row

# A share of the strip smaller than half its finest fold is quicker measured.
FINEST_SHARE = 1 / 32


@dataclass(frozen=True)
class Distance:
    """One kind of corner in one row.

    ``fraction`` is the share of the way round the ball, ``fold`` how to find it on a paper strip;
    ``spokes`` the numbers of the guidelines.  A wound turn is measured to its middle line.
    """

    kind: str
    pin: str
    mm: float
    fraction: float
    fold: str
    spokes: tuple[int, ...]


@dataclass(frozen=True)
class RowLine:
    """One row: its number, its thread by name, and where its corners stand."""

    number: int
    thread: str
    distances: tuple[Distance, ...]


@dataclass(frozen=True)
class RowTable:
    """All rows of the motifs of one layer that are worked alike at ``places``."""

    layer: int
    places: tuple[str, ...]
    rows: tuple[RowLine, ...]


def row_tables(made: Stitched) -> tuple[RowTable, ...]:
    """Tables in document order."""
    alike: dict[int, list[Motif]] = {}
    for motif in made.motifs:
        alike.setdefault(id(motif.rows), []).append(motif)
    return tuple(_table(made, motifs) for motifs in alike.values())


def _table(made: Stitched, motifs: list[Motif]) -> RowTable:
    first = motifs[0]
    names = [made.design.threads[k].name for k in first.threads]
    rows = tuple(
        RowLine(row.number, name, _wound(made, first, row) if row.turn else _stitched(made, first, row))
        for row, name in zip(first.rows, names)
    )
    return RowTable(first.layer, tuple(motif.place for motif in motifs), rows)


def _stitched(made: Stitched, motif: Motif, row: Row) -> tuple[Distance, ...]:
    return tuple(
        _distance(made, corner.kind, corner.pin, corner.mm, corner.spokes)
        for corner in corners(motif, row, made.ball, made.marking)
    )


def _wound(made: Stitched, motif: Motif, row: Row) -> tuple[Distance, ...]:
    high = row.turn is not None and row.turn.offset > 0
    line = "its own great circle" if motif.site.kind == "ball" else motif.place
    return (_distance(made, "upper turn" if high else "lower turn", line, turn_mm(made, row), ()),)


def turn_mm(made: Stitched, row: Row) -> float:
    """How far a turn's middle line lies from its circle."""
    return made.ball.mm(abs(asin(row.turn.offset))) if row.turn else 0.0


def _distance(made: Stitched, kind: str, pin: str, mm: float, spokes: tuple[int, ...]) -> Distance:
    share = mm / made.ball.around_mm
    fold = recipe(share, made.ball.around_mm) if share >= FINEST_SHARE else "measure it"
    return Distance(kind, pin, mm, share, fold, spokes)
