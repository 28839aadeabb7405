"""The checklist for delivery and return: a row a piece with its picture, boxes to tick, and signatures.

In: an ``Exhibition`` and pictures.  Out: PDF.
"""

from collections.abc import Iterator, Mapping

from polestitch.sheets.blocks import Block, Style, paragraph, stack
from polestitch.sheets.pages import GUTTER, Grid
from polestitch.sheets.sheet import HAIR, INK, QUIET, Line, Mark, Pen, Text, paper_named, rectangle
from polestitch.sheets.show.dates import day
from polestitch.sheets.show.facts import size as size_of
from polestitch.sheets.show.listing import NOTE, kept, listed_pdf, notes, signatures
from polestitch.sheets.show.plates import SMALL, fitted, plate, words_of
from polestitch.showing.exhibition import Exhibition
from polestitch.showing.pieces import Piece, pieces
from polestitch.showing.record import PieceRecord

PICTURE, BOX = 18.0, 3.6
TITLE = Style("serif bold", 11, 14)
DETAIL = Style("sans", 8.5, 11.5, QUIET)
HEAD = Style("sans", 8, 11, QUIET)
TICKS = ("packed", "arrived", "as written down")
WRITING = 8.0  # mm from line to line to write on
CAUTION = (
    "Count the pins and needles that travel with the pieces, before packing and after. "
    "A ball with loose pins, beads or bells is nothing for small children."
)


def made(exhibition: Exhibition, pictures: Mapping[str, bytes], size: str) -> bytes:
    """Every piece out and back."""
    grid = Grid(paper_named(size))
    head = _head(exhibition, grid)
    rows = [_row(piece, pictures, grid, head) for piece in pieces(exhibition)]
    signed = signatures(("Delivered by", "Received by", "Returned by", "Received back by"), grid)
    blocks = (head, *rows, Block(2.0), *kept(notes([CAUTION], grid)), signed)
    return listed_pdf("Delivery and return", exhibition, blocks, grid)


def _head(exhibition: Exhibition, grid: Grid) -> Block:
    """What the two groups of boxes are for, with the days as far as they are entered."""
    marks: list[Mark] = []
    for column, name, on in ((6, "Delivery", exhibition.delivery), (9, "Return", exhibition.collection)):
        words = f"{name}, {day(on)}" if on else name
        marks += paragraph(words, grid.span(3), HEAD).at(grid.x(column), 0.0)
    height = paragraph("x", 10.0, HEAD).height + 1.0
    return Block(height, (*marks, Line(0.0, height, grid.width, height, Pen(INK, 0.2))), keep=True)


def _row(piece: Piece, pictures: Mapping[str, bytes], grid: Grid, head: Block) -> Block:
    record = piece.record
    shown = plate(record.number, pictures, SMALL)
    marks: list[Mark] = [] if shown is None else [fitted(shown, PICTURE, PICTURE, words_of(record)).moved(0.0, 2.0)]
    left = PICTURE + GUTTER
    told = stack([*_told(record, grid.x(6) - GUTTER - left)])
    marks += told.at(left, 2.0)
    for column in (6, 9):
        marks += _boxes(grid.x(column), grid.span(3))
    height = max(PICTURE + 4.0, told.height + 4.0, 2.0 + len(TICKS) * 6.0 + WRITING)
    return Block(height, (*marks, Line(0.0, height, grid.width, height, Pen(HAIR, 0.15))), head=head)


def _told(record: PieceRecord, width: float) -> Iterator[Block]:
    yield paragraph(record.number, width, NOTE)
    yield paragraph(record.title, width, TITLE)
    if record.around is not None:
        yield paragraph(size_of(record.around), width, DETAIL)
    if record.small_parts:
        yield paragraph(f"Small parts: {record.small_parts}", width, DETAIL)
    if record.condition:
        last = record.condition[-1]
        seen = f"Condition, {day(last.on)}" if last.on else "Condition"
        yield paragraph(f"{seen}: {last.words}", width, DETAIL)


def _boxes(x: float, width: float) -> Iterator[Mark]:
    """Boxes to tick, and a line to write on."""
    for k, words in enumerate(TICKS):
        y = 2.5 + 6.0 * k
        yield rectangle((x, y, x + BOX, y + BOX), Pen(INK, 0.25))
        yield Text(x + BOX + 2.0, y + BOX - 0.7, words, "sans", 8.5)
    y = 2.5 + 6.0 * (len(TICKS) - 1) + WRITING
    yield Text(x, y + 1.4, "changed:", "sans", 8.5)
    yield Line(x + 15.0, y + 2.0, x + width, y + 2.0, Pen(QUIET, 0.15))
