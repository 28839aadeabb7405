"""The labels' texts in large print, to be handed out.

In: an ``Exhibition``.  Out: PDF.  At least 18 point, headings of 22, sans serif, no italics, flush left, an inch of
margin, page numbers as large as the text: American Council of the Blind, Large Print Guidelines (2022); lines 1.5
of the size apart: Council of Citizens with Low Vision International, best practices for large print.
"""

from collections.abc import Iterator, Mapping

from polestitch.sheets.blocks import Block, Style, paragraph, stack
from polestitch.sheets.pdf import pdf
from polestitch.sheets.sheet import Mark, Paper, Sheet, Text, paper_named
from polestitch.sheets.show.dates import when
from polestitch.sheets.show.facts import facts, story
from polestitch.sheets.show.setting import line_blocks
from polestitch.showing.exhibition import Exhibition
from polestitch.showing.pieces import Piece, pieces

INCH = 25.4
BLACK = "#000000"
TEXT = Style("sans", 18, 27, BLACK)
HEAD = Style("sans bold", 22, 30, BLACK)
TITLE = Style("sans bold", 30, 38, BLACK)
FOOT = 14.0  # mm for the page number


def made(exhibition: Exhibition, _pictures: Mapping[str, bytes], size: str) -> bytes:
    """Title, venue and days, foreword, then each piece on a page of its own."""
    paper = paper_named(size)
    width = paper.width - 2 * INCH
    pages = [
        (title, page)
        for title, blocks in (
            (exhibition.title, [*_opening(exhibition, width)]),
            *((piece.record.title, [*_piece(exhibition, piece, width)]) for piece in pieces(exhibition)),
        )
        for title, page in _broken(title, blocks, paper)
    ]
    sheets = [Sheet(paper, (*marks, _number(paper, k)), title) for k, (title, marks) in enumerate(pages, 1)]
    return pdf(sheets, f"{exhibition.title}: large print")


def _opening(exhibition: Exhibition, width: float) -> Iterator[Block]:
    yield paragraph(exhibition.title, width, TITLE)
    for part in (exhibition.line, exhibition.venue, when(exhibition)):
        if part:
            yield from (Block(5.0), *line_blocks(part, width, TEXT))
    if exhibition.foreword.strip():
        yield from (Block(8.0), *line_blocks(exhibition.foreword, width, TEXT))


def _piece(exhibition: Exhibition, piece: Piece, width: float) -> Iterator[Block]:
    record = piece.record
    yield paragraph(record.number, width, TEXT)
    yield paragraph(record.title, width, HEAD)
    told = [*([("Pattern", record.pattern)] if record.pattern else []), *facts(record)]
    if exhibition.labels.prices and record.price is not None:
        told.append(("Price", str(record.price)))
    if words := story(record, exhibition.labels.words):
        yield from (Block(6.0), *line_blocks(words, width, TEXT))
    yield Block(4.0)
    yield from (paragraph(f"{name}: {value}", width, TEXT) for name, value in told)


def _broken(title: str, blocks: list[Block], paper: Paper) -> Iterator[tuple[str, tuple[Mark, ...]]]:
    """Blocks down as many pages as they need."""
    room = paper.height - 2 * INCH - FOOT
    page: list[Block] = []
    for block in blocks:
        if page and sum(one.height for one in page) + block.height > room:
            yield title, stack(page).at(INCH, INCH)
            page, title = [], ""
        page.append(block)
    yield title, stack(page).at(INCH, INCH)


def _number(paper: Paper, number: int) -> Text:
    return Text(INCH, paper.height - INCH, str(number), "sans", TEXT.size, "start", BLACK)
