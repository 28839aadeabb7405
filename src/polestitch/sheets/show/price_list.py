"""The price list: what each piece costs, and a dash where no price is entered.

In: an ``Exhibition``.  Out: PDF.
"""

from collections.abc import Iterator, Mapping

from polestitch.sheets.blocks import Style
from polestitch.sheets.pages import Column, Grid, table
from polestitch.sheets.sheet import paper_named
from polestitch.sheets.show.listing import NOTHING, listed_pdf, notes
from polestitch.showing.exhibition import Exhibition
from polestitch.showing.pieces import pieces
from polestitch.showing.record import PieceRecord

# Visitors read it in their hands: clear print's 12 points for title and price.
NUMBER, PRICE = Style("sans", 10, 15), Style("sans bold", 12, 15)
TITLE, PATTERN = Style("serif bold", 12, 15), Style("serif italic", 11, 15)


def made(exhibition: Exhibition, _pictures: Mapping[str, bytes], size: str) -> bytes:
    """Number, title, pattern and price of every piece."""
    grid = Grid(paper_named(size))
    rows = [
        (piece.record.number, piece.record.title, piece.record.pattern, price(piece.record))
        for piece in pieces(exhibition)
    ]
    columns = (
        Column("No.", 0.0, grid.span(2), NUMBER),
        Column("Title", grid.x(2), grid.span(4), TITLE),
        Column("Pattern", grid.x(6), grid.span(4), PATTERN),
        Column("Price", grid.x(10), grid.span(2), PRICE, right=True),
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
        yield f"The venue's commission of {exhibition.commission_percent:g} % is within the prices."
