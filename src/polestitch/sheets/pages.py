"""Pages of a booklet: a grid of twelve columns, and blocks that flow down it from page to page.

In: sections of blocks as wide as the grid.  Out: sheets with page numbers.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field, replace

from polestitch.sheets.blocks import Block, Columns, Style, numbered, paragraph
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
STEP = Style("serif", 10, 13.4)


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
    """A part of the booklet with its accent colour, of which a page has one only."""

    title: str
    accent: str
    blocks: tuple[Block | Columns, ...]
    term: str = ""  # what the trade calls it in Japanese


def heading(section: Section, width: float) -> Block:
    """A short bar in the accent colour, the section's title, and the Japanese term at the right."""
    words = paragraph(section.title, width * 0.75, HEADING)
    bar = rectangle((0.0, 0.6, 16.0, 1.5), None, section.accent)
    term = Text(width, 4.0 + HEADING.drop_mm, section.term, "serif", 13, "end", QUIET)
    return Block(words.height + 10.0, (bar, *words.at(0.0, 4.0), *((term,) if section.term else ())), keep=True)


def flowed(sections: Sequence[Section], grid: Grid) -> list[tuple[str, tuple[Mark, ...]]]:
    """(title, marks) pages of all sections: a new page wherever the accent changes, else one below the other.

    A block that keeps company with the next is never left last on a page.
    """
    pages: list[_Page] = []
    for number, section in enumerate(sections):
        follows = bool(number) and sections[number - 1].accent == section.accent
        if not follows:
            pages.append(_Page(section.title))
        blocks = (heading(section, grid.width), *section.blocks)
        gap = Block(12.0, keep=True)
        for company in _companies((gap, *blocks) if follows else blocks):
            _take(pages, company, grid.height)
    return [(page.title, tuple(page.marks)) for page in pages]


@dataclass
class _Page:
    """A page being filled."""

    title: str = ""
    marks: list[Mark] = field(default_factory=list)
    y: float = 0.0


def _take(pages: list[_Page], company: Sequence[Block | Columns], height: float) -> None:
    """Put a company of blocks on the last page, or on a new one; one taller than a page has to part."""
    if pages[-1].y and pages[-1].y + sum(block.height for block in company) > height:
        pages.append(_Page())
    for block in company:
        if isinstance(block, Columns):
            _take_columns(pages, block, height)
        else:
            _take_block(pages, block, height)


def _take_block(pages: list[_Page], block: Block, height: float) -> None:
    if pages[-1].y and pages[-1].y + block.height > height + 1e-6:
        pages.append(_Page())
    page = pages[-1]
    if not block.marks and not page.marks:
        return  # no empty space at the head of a page
    for part in (block.head, block) if block.head is not None and not page.marks else (block,):
        page.marks += part.at(MARGIN, MARGIN + page.y)
        page.y += part.height


def _take_columns(pages: list[_Page], columns: Columns, height: float) -> None:
    """As much side by side as each page holds."""
    while columns.blocks:
        pair, columns = columns.dealt(height - pages[-1].y)
        _take_block(pages, pair, height)
        if columns.blocks:
            pages.append(_Page())


def _companies(blocks: Iterable[Block | Columns]) -> list[list[Block | Columns]]:
    """Runs of blocks that stay together: each keeps the next until one does not."""
    companies: list[list[Block | Columns]] = [[]]
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


def step_columns(steps: Iterable[tuple[str, str]], grid: Grid, columns: int = COLUMNS) -> Columns:
    """(number, text) as numbered paragraphs in two columns, together so many columns of the grid wide."""
    blocks = [numbered(number, text, grid.span(columns) / 2 - GUTTER / 2, STEP) for number, text in steps]
    spaced = tuple(Block(block.height + 1.4, block.marks) for block in blocks)
    return Columns(spaced, grid.span(columns) / 2 + GUTTER / 2)


@dataclass(frozen=True)
class Column:
    """One column of a table: its title, where it starts, how wide it is, and how its words are set."""

    title: str
    x: float
    width: float
    style: Style = CELL
    right: bool = False


def table(columns: Sequence[Column], rows: Sequence[Sequence[str]], width: float) -> list[Block]:
    """A header and one block a row, hairlines between; the header keeps company with the first row.

    A row without a first cell goes on with the one before: no hairline parts them, and no page.  Where
    the table goes on, the header stands again.
    """
    head = _cells([Column(c.title, c.x, c.width, Style("sans", 7.5, 10.5, QUIET), c.right) for c in columns], None)
    rule = Line(0.0, head.height + 0.4, width, head.height + 0.4, Pen(INK, 0.2))
    header = Block(head.height + 0.8, (*head.marks, rule), keep=True)
    blocks = [header]
    for number, row in enumerate(rows):
        cells, goes_on = _cells(columns, row), number + 1 < len(rows) and not rows[number + 1][0]
        height = cells.height + (0.4 if goes_on else 1.4)
        below = () if goes_on else (Line(0.0, height - 0.1, width, height - 0.1, Pen(HAIR, 0.15)),)
        lonely = number == 0 or number + 2 == len(rows)  # neither first nor last row stands alone on a page
        keep = goes_on or (lonely and len(rows) > 1)
        blocks.append(Block(height, (*moved(cells.marks, 0.0, 0.6), *below), keep, header))
    return blocks


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
