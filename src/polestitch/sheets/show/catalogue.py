"""The catalogue: cover, foreword, a page a piece, the list of pieces and what is said of the pictures.

In: an ``Exhibition`` and pictures.  Out: PDF.
"""

from collections.abc import Iterator, Mapping, Sequence

from polestitch.sheets.blocks import Block, Columns, Style, paragraph, space
from polestitch.sheets.pages import CELL, GUTTER, Column, Grid, Section, flowed, table
from polestitch.sheets.pdf import pdf
from polestitch.sheets.sheet import INDIGO, Mark, Sheet, paper_named
from polestitch.sheets.show.catalogue_cover import cover
from polestitch.sheets.show.catalogue_piece import piece_pages
from polestitch.sheets.show.dates import when
from polestitch.sheets.show.facts import size as size_of
from polestitch.sheets.show.listing import NOTE, foot
from polestitch.sheets.show.setting import line_blocks
from polestitch.showing.exhibition import Exhibition
from polestitch.showing.pieces import Piece, pieces

FOREWORD = Style("serif", 12, 18)
COLUMN = Style("serif", 10.5, 15)
SHORT = 1400  # letters: a longer foreword is set in two columns
ITALIC = Style("serif italic", 9.5, 11.5)
TITLE = Style("serif", 9.5, 11.5)
Body = tuple[str, tuple[Mark, ...]]


def made(exhibition: Exhibition, pictures: Mapping[str, bytes], size: str) -> bytes:
    """The whole catalogue."""
    grid = Grid(paper_named(size))
    bodies: list[Body] = [("Cover", cover(exhibition, pictures, grid)), *_foreword(exhibition, grid)]
    begin = {}
    for number, title, marks in piece_pages(exhibition, pictures, grid):
        bodies.append((title, marks))
        begin.update(dict.fromkeys(number, len(bodies)))
    bodies += flowed([_closing(exhibition, pictures, begin, grid)], grid)
    sheets = [
        Sheet(grid.paper, (*marks, *(foot(grid, exhibition.title, k, len(bodies)) if k > 1 else ())), title)
        for k, (title, marks) in enumerate(bodies, 1)
    ]
    return pdf(sheets, exhibition.title)


def _foreword(exhibition: Exhibition, grid: Grid) -> list[Body]:
    if not exhibition.foreword.strip():
        return []
    if len(exhibition.foreword) <= SHORT:
        blocks: Sequence[Block | Columns] = line_blocks(exhibition.foreword, grid.span(9), FOREWORD)
    else:
        half = (grid.width - 2 * GUTTER) / 2
        blocks = [Columns(tuple(line_blocks(exhibition.foreword, half, COLUMN)), half + 2 * GUTTER)]
    return flowed([Section("Foreword", INDIGO, (space(4.0), *blocks))], grid)


def _closing(exhibition: Exhibition, pictures: Mapping[str, bytes], begin: Mapping[str, int], grid: Grid) -> Section:
    shown = pieces(exhibition)
    rows = [_row(piece, begin) for piece in shown]
    columns = (
        Column("No.", 0.0, grid.span(2), CELL),
        Column("Title", grid.x(2), grid.span(4), TITLE),
        Column("Pattern", grid.x(6), grid.span(3), ITALIC),
        Column("Size", grid.x(9), grid.span(2), CELL),
        Column("Page", grid.x(11), grid.span(1), CELL, right=True),
    )
    told = [
        block
        for words in _colophon(exhibition, pictures)
        for block in (space(1.4), paragraph(words, grid.span(9), NOTE))
    ]
    return Section("The pieces", INDIGO, (*table(columns, rows, grid.width), space(8.0), *told))


def _row(piece: Piece, begin: Mapping[str, int]) -> tuple[str, ...]:
    record = piece.record
    round_ = "" if record.around is None else size_of(record.around).split(",")[0]
    return record.number, record.title, record.pattern, round_, str(begin[record.number])


def _colophon(exhibition: Exhibition, pictures: Mapping[str, bytes]) -> Iterator[str]:
    venue = ", ".join(line.strip() for line in exhibition.venue.splitlines() if line.strip())
    yield ". ".join(part for part in (exhibition.title, exhibition.line, venue, when(exhibition)) if part) + "."
    if exhibition.curator:
        yield f"Curator: {exhibition.curator}."
    shown = [piece.record for piece in pieces(exhibition) if piece.record.number in pictures]
    drawn = [record.number for record in shown if not record.photos]
    if drawn and len(drawn) == len(shown):
        yield "Pictures: drawn by Polestitch from the design."
    elif drawn:
        yield f"Pictures of {', '.join(drawn)}: drawn by Polestitch from the design."
    credits: dict[str, list[str]] = {}
    for record in shown:
        if record.photos and record.photos[0].credit:
            credits.setdefault(record.photos[0].credit, []).append(record.number)
    for credit, numbers in credits.items():
        yield f"Photographs of {', '.join(numbers)}: {credit}."
