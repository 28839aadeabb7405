"""Blocks that several papers of a class share: headings, facts, lists, rules to write on.

In: words and the grid.  Out: blocks.
"""

from collections.abc import Iterable

from polestitch.sheets.blocks import BODY, Block, Style, numbered, paragraph, space
from polestitch.sheets.pages import SUBHEAD, Grid
from polestitch.sheets.sheet import HAIR, INK, QUIET, Circle, Line, Mark, Pen, Text, rectangle
from polestitch.teaching.document import ClassSpec

RULE_PITCH = 8.5  # mm from one writing rule to the next
SMALL = Style("sans", 7.5, 10.5, QUIET)
STRONG = Style("serif bold", 12, 16)


def subhead(words: str, grid: Grid) -> list[Block]:
    """A heading inside a section; it stays with what follows."""
    head = paragraph(words, grid.width, SUBHEAD)
    return [Block(head.height + 6.5, head.at(0.0, 5.0), keep=True)]


def bullets(words: Iterable[str], grid: Grid, columns: int = 10, style: Style = BODY) -> list[Block]:
    """Sentences with a point before each."""
    blocks = []
    for text in words:
        block = numbered("", text, grid.span(columns), style, hang=5.0)
        point = Circle(1.6, style.drop_mm - 1.1, 0.5, None, INK)
        blocks.append(Block(block.height + 1.2, (point, *block.marks)))
    return blocks


def facts(spec: ClassSpec, grid: Grid) -> list[Block]:
    """Level, date, place and teacher, as far as they were entered."""
    known = [("Level", spec.level), ("When", spec.when), ("Where", spec.place), ("Teacher", spec.teacher)]
    blocks = []
    for name, value in known:
        if value:
            words = paragraph(value, grid.span(9), BODY)
            label = Text(0.0, BODY.drop_mm, name, "sans", 8.5, colour=QUIET)
            blocks.append(Block(words.height + 0.6, (label, *words.at(grid.x(2), 0.0))))
    return [*blocks, space(2.0)] if blocks else []


def rules(count: int, grid: Grid, first: str = "") -> list[Block]:
    """Lines to write on; ``first`` stands at the head of the first one."""
    blocks = []
    for k in range(count):
        marks: list[Mark] = [Line(0.0, RULE_PITCH, grid.width, RULE_PITCH, Pen(HAIR, 0.2))]
        if k == 0 and first:
            marks.append(Text(0.0, RULE_PITCH - 1.4, first, "sans", 8.0, colour=QUIET))
        blocks.append(Block(RULE_PITCH, tuple(marks)))
    return blocks


def ticked(block: Block) -> Block:
    """The block with a box to tick at its left edge."""
    box = rectangle((0.0, 0.9, 3.2, 4.1), Pen(INK, 0.2))
    return Block(block.height, (box, *block.marks), block.keep, block.head)
