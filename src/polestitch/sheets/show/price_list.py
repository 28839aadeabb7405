"""The price list: what each piece costs, and a dash where no price is entered.

In: an ``Exhibition``.  Out: PDF.
"""

from collections.abc import Iterator, Mapping

from polestitch.sheets.pages import CELL, Column, Grid, table
from polestitch.sheets.sheet import paper_named
from polestitch.sheets.show.listing import NOTHING, STRONG, listed_pdf, notes
from polestitch.showing.exhibition import Exhibition
from polestitch.showing.pieces import pieces
from polestitch.showing.record import PieceRecord


def made(exhibition: Exhibition, _pictures: Mapping[str, bytes], size: str) -> bytes:
    """Number, title, pattern and price of every piece."""
    grid = Grid(paper_named(size))
    rows = [
        (piece.record.number, piece.record.title, piece.record.pattern, price(piece.record))
        for piece in pieces(exhibition)
    ]
    columns = (
        Column("No.", 0.0, grid.span(2), STRONG),
        Column("Title", grid.x(2), grid.span(4), CELL),
        Column("Pattern", grid.x(6), grid.span(4), CELL),
        Column("Price", grid.x(10), grid.span(2), STRONG, right=True),
    )
    blocks = [*table(columns, rows, grid.width), *notes(_notes(exhibition, rows), grid)]
    return listed_pdf("Prices", exhibition, blocks, grid)


def price(record: PieceRecord) -> str:
    """The price, that it is sold, or a dash: nothing else was said."""
    if record.place.where == "sold":
        return "sold"
    return NOTHING if record.price is None else str(record.price)


def _notes(exhibition: Exhibition, rows: list[tuple[str, str, str, str]]) -> Iterator[str]:
    if any(row[-1] == NOTHING for row in rows):
        yield f"{NOTHING} no price is written down."
    if exhibition.commission_percent and any(row[-1] not in (NOTHING, "sold") for row in rows):
        yield f"The prices are what is paid; the venue keeps {exhibition.commission_percent:g} % of them."
