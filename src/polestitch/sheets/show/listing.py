"""Lists and forms of a show: a heading, the show in a line, then blocks down the pages.

In: blocks as wide as the grid.  Out: PDF.
"""

from collections.abc import Iterable, Sequence
from dataclasses import replace

from polestitch.document.money import Money
from polestitch.sheets.blocks import Block, Style, paragraph, space
from polestitch.sheets.pages import CELL, SUBHEAD, Grid, Section, flowed
from polestitch.sheets.pdf import pdf
from polestitch.sheets.sheet import HAIR, INDIGO, INK, MARGIN, QUIET, Line, Mark, Pen, Sheet, Text
from polestitch.sheets.show.dates import when
from polestitch.showing.exhibition import Exhibition

LEAD = Style("serif", 11, 15.5)
NOTE = Style("sans", 8.5, 12, QUIET)
PLAIN = Style("sans", 9.5, 13.5)
STRONG = Style("sans bold", 9.5, 13.5)
NUMBER = Style("sans bold", CELL.size, CELL.leading)  # on one line with a table's plain cells
NOTHING = "–"


def listed_pdf(title: str, exhibition: Exhibition, blocks: Iterable[Block], grid: Grid, accent: str = INDIGO) -> bytes:
    """The whole paper: heading, the show's name, venue and days, and ``blocks``."""
    section = Section(title, accent, (*_show_lines(exhibition, grid), *blocks))
    bodies = flowed([section], grid)
    sheets = [
        Sheet(
            grid.paper,
            (*marks, *foot(grid, f"{exhibition.title}, {title[0].lower()}{title[1:]}", k, len(bodies))),
            name,
        )
        for k, (name, marks) in enumerate(bodies, 1)
    ]
    return pdf(sheets, f"{exhibition.title}: {title}")


def foot(grid: Grid, name: str, number: int, of: int) -> tuple[Mark, ...]:
    """The line at the foot of a page: the paper's name and the page."""
    paper, y = grid.paper, grid.paper.height - MARGIN
    return (
        Line(MARGIN, y - 4.2, paper.width - MARGIN, y - 4.2, Pen(HAIR, 0.15)),
        Text(MARGIN, y, " ".join(name.split()), "sans", 7.5, "start", QUIET),
        Text(paper.width - MARGIN, y, f"{number} / {of}", "sans bold", 7.5, "end", INK),
    )


def _show_lines(exhibition: Exhibition, grid: Grid) -> tuple[Block, ...]:
    venue = ", ".join(line.strip() for line in exhibition.venue.splitlines() if line.strip())
    told = [exhibition.title, *(part for part in (venue, when(exhibition)) if part)]
    first, *rest = told
    lines = [
        paragraph(first, grid.width, replace(LEAD, face="serif bold")),
        *(paragraph(part, grid.width, LEAD) for part in rest),
    ]
    return (*(replace(line, keep=True) for line in lines), Block(6.0, keep=True))


def subhead(words: str, grid: Grid) -> Block:
    """A heading inside the paper; it keeps company with what follows."""
    head = paragraph(words, grid.width, SUBHEAD)
    return Block(head.height + 1.5, head.marks, keep=True)


def totals(name: str, amounts: Sequence[Money], grid: Grid) -> Block:
    """A sum a currency, at the right edge under a table."""
    marks: list[Mark] = []
    for k, amount in enumerate(amounts):
        y = 2.0 + PLAIN.drop_mm + k * PLAIN.line_mm
        marks += [
            Text(grid.width - 32.0, y, name if not k else "", "sans", PLAIN.size, "end", QUIET),
            Text(grid.width, y, str(amount), "sans bold", PLAIN.size, "end"),
        ]
    return Block(
        3.0 + len(amounts) * PLAIN.line_mm, tuple(mark for mark in marks if not isinstance(mark, Text) or mark.text)
    )


def notes(sentences: Iterable[str], grid: Grid) -> list[Block]:
    """Quiet sentences under a list, one paragraph each."""
    return [block for words in sentences for block in (space(1.6), paragraph(words, grid.span(10), NOTE))]


def kept(blocks: Iterable[Block]) -> list[Block]:
    """The blocks, each keeping company with the next."""
    return [replace(block, keep=True) for block in blocks]


def signatures(names: Sequence[str], grid: Grid) -> Block:
    """Lines to sign on, two beside each other: who, the day, the signature."""
    half = (grid.width - 10.0) / 2
    marks: list[Mark] = []
    for k, name in enumerate(names):
        x, y = (k % 2) * (half + 10.0), 16.0 + (k // 2) * 20.0
        marks += [
            Line(x, y, x + half, y, Pen(INK, 0.2)),
            Text(x, y + 4.2, name, "sans", 8, "start", QUIET),
            Text(x + half, y + 4.2, "day and signature", "sans", 8, "end", QUIET),
        ]
    return Block(24.0 + 20.0 * ((len(names) - 1) // 2), tuple(marks))
