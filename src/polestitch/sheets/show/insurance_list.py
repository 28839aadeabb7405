"""The insurance list: what each piece is insured for, and the sum of each currency.

In: an ``Exhibition``.  Out: PDF.
"""

from collections.abc import Mapping

from polestitch.sheets.blocks import Block
from polestitch.sheets.pages import CELL, Column, Grid, table
from polestitch.sheets.sheet import paper_named
from polestitch.sheets.show.listing import NOTHING, NUMBER, listed_pdf, notes, totals
from polestitch.showing.exhibition import Exhibition
from polestitch.showing.pieces import Piece, pieces, sums


def made(exhibition: Exhibition, _pictures: Mapping[str, bytes], size: str) -> bytes:
    """Number, title, size, weight and value of every piece, then the sums."""
    grid = Grid(paper_named(size))
    blocks = [*insured_table(pieces(exhibition), grid), *notes(missing(pieces(exhibition)), grid)]
    return listed_pdf("Insurance values", exhibition, blocks, grid)


def insured_table(shown: tuple[Piece, ...], grid: Grid) -> list[Block]:
    """The table with its sums."""
    rows = [_row(piece) for piece in shown]
    columns = (
        Column("No.", 0.0, grid.span(2), NUMBER),
        Column("Title", grid.x(2), grid.span(4), CELL),
        Column("Size", grid.x(6), grid.span(3), CELL),
        Column("Weight", grid.x(9), grid.span(1), CELL, right=True),
        Column("Insured for", grid.x(10), grid.span(2), NUMBER, right=True),
    )
    amounts = sums(piece.record.insured for piece in shown)
    return [*table(columns, rows, grid.width), *([totals("In all", amounts, grid)] if amounts else [])]


def _row(piece: Piece) -> tuple[str, ...]:
    record = piece.record
    return (
        record.number,
        record.title,
        "" if record.around is None else f"{record.around} round",
        "" if record.weight_g is None else f"{record.weight_g:g} g",
        NOTHING if record.insured is None else str(record.insured),
    )


def missing(shown: tuple[Piece, ...]) -> list[str]:
    """What the sum leaves out, in a sentence."""
    without = [piece.record.number for piece in shown if piece.record.insured is None]
    return [f"{NOTHING} no value is written down; the sum is without {', '.join(without)}."] if without else []
