"""The sampler's sheet: what to stitch in five minutes, what to measure on it, and blanks.

In: a paper.  Out: sheets, or their PDF; and the empty table that belongs to it.
"""

import math
from collections.abc import Iterator
from itertools import pairwise

from polestitch.document.tabletext import table_text
from polestitch.hand.sampler import HEADS
from polestitch.sheets.blocks import BODY, Block, Columns, Style, paragraph, space
from polestitch.sheets.pages import SIDE, SUBHEAD, Column, Grid, Section, flowed, numbered_sheets, step_columns, table
from polestitch.sheets.pdf import pdf
from polestitch.sheets.sheet import BRASS, HAIR, INDIGO, INK, QUIET, Line, Mark, Pen, Sheet, Text, paper_named

NAME = "Sampler of your hand"
ROWS = 3
# What to read, how often: each with the places it is read at.
READINGS = (
    ("square", ("first line", "second line", "third line", "fourth line")),
    ("point", ("one tip", "other tip")),
    ("bite", ("a plain bite",)),
    ("dip", ("needle, how deep",)),
)
WHY = (
    "How wide thread lies and how far a point steps differs from hand to hand by a fifth and more; numbers of rows and "
    "amounts of thread hang on it. Five minutes on any wound ball tell yours. Take the thread you use most and stitch "
    "as you always do: do not try to be even."
)
STEPS = (
    "Choose a spot where two guidelines cross at right angles, or lay two threads so. Put a pin 15 mm from the "
    "crossing on each of the four lines.",
    f"Square: come out at one pin, bite at the next, and so on round. Stitch {ROWS} rows, each row outside the one "
    "before and close beside it.",
    f"Point: on a free line put two pins 40 mm apart. Stitch a spindle round them, {ROWS} rounds, the points stretched "
    "as you always stretch them.",
    f"Take the pins out. On each line of the square measure from the thread of row 1 to the thread of row {ROWS}, "
    "where they cross the line, middle to middle, to half a millimetre or finer.",
    f"Measure the spindle the same way at both tips, along its line, from row 1 to row {ROWS}.",
    "Measure how wide one plain bite is, from where the thread goes in to where it comes out. Hold the needle as in a "
    "bite and mark how deep it goes.",
    "More rows tell more: with five of each write 5 under rows. A line you leave empty counts as not measured.",
)
NEXT = (
    "Write the readings into the table that belongs to this sheet (polestitch sampler -o sampler.csv), then "
    "polestitch hand sampler.csv says what your hand is, and with --for a design and -o puts it into that design."
)


CAUTION = (
    "Pins and needles are sharp and easily lost in soft work. Count them before you begin and at the end, keep them "
    "from children and animals, and follow local rules for toys; ask somebody qualified where you are in doubt."
)


def sampler_pdf(paper: str = "a4") -> bytes:
    """The sheet as PDF."""
    return pdf(sampler_sheets(paper), NAME)


def sampler_table(thread: str = "pearl 5") -> bytes:
    """The table to fill in, a line a reading."""
    lines = [
        (what, thread, ROWS, "") if what in ("square", "point") else (what, "", "", "")
        for what, places in READINGS
        for _ in places
    ]
    return table_text(HEADS, lines)


def sampler_sheets(paper: str = "a4") -> tuple[Sheet, ...]:
    """One sheet; ``DesignError`` for a paper that is not known."""
    size = paper_named(paper)
    grid = Grid(size)
    blocks: tuple[Block | Columns, ...] = (
        paragraph(WHY, grid.span(11), BODY),
        space(3.0),
        _figures(grid),
        space(3.0),
        step_columns(((str(k), words) for k, words in enumerate(STEPS, 1)), grid),
        space(3.0),
        Block(SUBHEAD.line_mm + 1.0, paragraph("What you read", grid.width, SUBHEAD).marks, keep=True),
        *_blanks(grid),
        space(3.0),
        paragraph(NEXT, grid.span(11), SIDE),
        space(2.0),
        paragraph(CAUTION, grid.span(11), SIDE),
    )
    return numbered_sheets(flowed([Section(NAME, BRASS, blocks)], grid), size, NAME)


def _figures(grid: Grid) -> Block:
    """The square and the spindle, with the length to read on each."""
    middle = 24.0
    square, spindle = (grid.width * 0.22, middle), (grid.width * 0.72, middle)
    marks: list[Mark] = [*_square(*square), *_spindle(*spindle)]
    words = (("Square: four readings", square[0]), ("Point: two readings", spindle[0]))
    marks += [Text(x, 2 * middle + 4.0, said, "sans bold", 8.5, "middle", INK) for said, x in words]
    return Block(2 * middle + 7.0, tuple(marks), keep=True)


def _square(x: float, y: float) -> Iterator[Mark]:
    lines = [(math.cos(turn), math.sin(turn)) for turn in (0, math.pi / 2, math.pi, 3 * math.pi / 2)]
    for dx, dy in lines:
        yield Line(x, y, x + 23 * dx, y + 23 * dy, Pen(HAIR, 0.25))
    for reach in (11.0, 14.0, 17.0):
        for (dx, dy), (ex, ey) in zip(lines, [*lines[1:], lines[0]]):
            yield Line(x + reach * dx, y + reach * dy, x + reach * ex, y + reach * ey, Pen(INDIGO, 0.8))
    yield from _reading(x + 11.0, x + 17.0, y - 9.5)


def _spindle(x: float, y: float) -> Iterator[Mark]:
    yield Line(x - 34, y, x + 34, y, Pen(HAIR, 0.25))
    for reach, wide in ((20.0, 1.2), (25.0, 3.2), (30.0, 5.2)):
        for side in (-1, 1):
            corners = [(-reach, 0.0), (-reach / 2, side * wide), (reach / 2, side * wide), (reach, 0.0)]
            for (ax, ay), (bx, by) in pairwise(corners):
                yield Line(x + ax, y + ay, x + bx, y + by, Pen(INDIGO, 0.8))
    yield from _reading(x + 20.0, x + 30.0, y - 8.0)


def _reading(left: float, right: float, y: float) -> Iterator[Mark]:
    """A length to read: a rule between two ends, and its word."""
    yield Line(left, y, right, y, Pen(INK, 0.3))
    for end in (left, right):
        yield Line(end, y - 1.2, end, y + 1.2, Pen(INK, 0.3))
    yield Text((left + right) / 2, y - 2.0, "read", "sans", 7.5, "middle", QUIET)


def _blanks(grid: Grid) -> list[Block]:
    columns = (
        Column("What", 0.0, 30.0, Style("sans bold", 8.5, 11.5)),
        Column("Where", 32.0, 40.0),
        Column("Thread", 76.0, 34.0),
        Column("Rows", 114.0, 16.0),
        Column("Reads, mm", 134.0, grid.width - 134.0),
    )
    cells = [
        (what, place, "", str(ROWS) if what in ("square", "point") else "", "")
        for what, places in READINGS
        for place in places
    ]
    head, *rows = table(columns, cells, grid.width)
    return [head, *(_to_write_on(row, grid, named=cell[3] != "") for row, cell in zip(rows, cells, strict=True))]


def _to_write_on(row: Block, grid: Grid, named: bool) -> Block:
    low = row.height - 1.0
    ends = [(134.0, grid.width), *([(76.0, 110.0)] if named else [])]
    rules = tuple(Line(left, low, right, low, Pen(INK, 0.2, (0.4, 0.6))) for left, right in ends)
    return Block(row.height + 1.2, (*row.marks, *rules), row.keep, row.head)
