"""Pages of a booklet: a grid of twelve columns, and blocks that flow down it from page to page.

In: sections of blocks as wide as the grid.  Out: sheets with page numbers.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from polestitch.sheets.blocks import Block, Style, paragraph
from polestitch.sheets.sheet import (
    HAIR,
    INK,
    MARGIN,
    QUIET,
    Line,
    Mark,
    Paper,
    Pen,
    Sheet,
    Text,
    moved,
    rectangle,
)

COLUMNS, GUTTER = 12, 4.0
FOOT = 9.0  # room under the text for the page number
HEADING = Style("serif bold", 24, 28)
SUBHEAD = Style("serif bold", 13.5, 18)
SIDE = Style("sans", 8.5, 11.5, QUIET)
CELL = Style("sans", 8.5, 11.5)


@dataclass(frozen=True)
class Grid:
    """Twelve columns between the margins of a paper."""

    paper: Paper

    @property
    def width(self) -> float:
        """From margin to margin."""
        return self.paper.width - 2 * MARGIN

    @property
    def height(self) -> float:
        """Room for blocks on one page."""
        return self.paper.height - 2 * MARGIN - FOOT

    def x(self, column: int) -> float:
        """Left edge of a column, 0 to 11, from the left margin."""
        return column * (self.width + GUTTER) / COLUMNS

    def span(self, columns: int) -> float:
        """Width of so many columns with the gutters between them."""
        return columns * (self.width + GUTTER) / COLUMNS - GUTTER


@dataclass(frozen=True)
class Section:
    """A part of the booklet that starts on a new page, with its one accent colour."""

    title: str
    accent: str
    blocks: tuple[Block, ...]


def heading(title: str, accent: str, width: float) -> Block:
    """A short bar in the accent colour and the section's title."""
    words = paragraph(title, width, HEADING)
    return Block(words.height + 10.0, (rectangle((0.0, 0.6, 16.0, 1.5), None, accent), *words.at(0.0, 4.0)), keep=True)


def flowed(section: Section, grid: Grid) -> list[tuple[Mark, ...]]:
    """The section's pages; a block that keeps company with the next is never left last on a page."""
    pages: list[list[Mark]] = [[]]
    y = 0.0
    blocks = (heading(section.title, section.accent, grid.width), *section.blocks)
    for company in _companies(blocks):
        need = sum(block.height for block in company)
        if y and y + need > grid.height:
            pages.append([])
            y = 0.0
        for block in company:
            if y and y + block.height > grid.height + 1e-6:  # a company taller than a page has to part
                pages.append([])
                y = 0.0
            pages[-1] += block.at(MARGIN, MARGIN + y)
            y += block.height
    return [tuple(page) for page in pages]


def _companies(blocks: Iterable[Block]) -> list[list[Block]]:
    """Runs of blocks that stay together: each keeps the next until one does not."""
    companies: list[list[Block]] = [[]]
    for block in blocks:
        companies[-1].append(block)
        if not block.keep:
            companies.append([])
    return [company for company in companies if company]


def numbered_sheets(bodies: Sequence[tuple[str, tuple[Mark, ...]]], paper: Paper, name: str) -> tuple[Sheet, ...]:
    """(title, marks) pages with a foot line: the design's name and the page number; the cover has none."""
    sheets = []
    for number, (title, marks) in enumerate(bodies, 1):
        foot = _foot(paper, name, f"{number} / {len(bodies)}") if number > 1 else ()
        sheets.append(Sheet(paper, (*marks, *foot), title))
    return tuple(sheets)


def _foot(paper: Paper, name: str, number: str) -> tuple[Mark, ...]:
    y = paper.height - MARGIN
    return (
        Line(MARGIN, y - 4.2, paper.width - MARGIN, y - 4.2, Pen(HAIR, 0.15)),
        Text(MARGIN, y, name, "sans", 7.5, "start", QUIET),
        Text(paper.width - MARGIN, y, number, "sans bold", 7.5, "end", INK),
    )


@dataclass(frozen=True)
class Column:
    """One column of a table: its title, where it starts, how wide it is, and how its words are set."""

    title: str
    x: float
    width: float
    style: Style = CELL
    right: bool = False


def table(columns: Sequence[Column], rows: Iterable[Sequence[str]], width: float) -> list[Block]:
    """A header and one block a row, hairlines between; the header keeps company with the first row."""
    head = _cells([Column(c.title, c.x, c.width, Style("sans", 7.5, 10.5, QUIET), c.right) for c in columns], None)
    rule = Line(0.0, head.height + 0.4, width, head.height + 0.4, Pen(INK, 0.2))
    body = [_cells(columns, row) for row in rows]
    under = [
        Block(
            cell.height + 1.8,
            (*moved(cell.marks, 0.0, 0.8), Line(0.0, cell.height + 1.7, width, cell.height + 1.7, Pen(HAIR, 0.15))),
        )
        for cell in body
    ]
    return [Block(head.height + 0.8, (*head.marks, rule), keep=True), *under]


def _cells(columns: Sequence[Column], row: Sequence[str] | None) -> Block:
    marks: list[Mark] = []
    height = 0.0
    for number, column in enumerate(columns):
        words = paragraph(column.title if row is None else row[number], column.width, column.style)
        shift = column.x + (column.width if column.right else 0.0)
        for mark in words.marks:
            aligned = replace(mark, anchor="end") if isinstance(mark, Text) and column.right else mark
            marks.append(aligned.moved(shift, 0.0))
        height = max(height, words.height)
    return Block(height, tuple(marks))
