"""Blocks of a page: marks with a height, set from their own top left corner, stacked into columns.

In: words and widths in mm, sizes in points.  Out: frozen ``Block``s.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import accumulate

from polestitch.sheets.lettering import lines
from polestitch.sheets.sheet import INK, MM_PER_POINT, Face, Mark, Text, moved

LEAST_COLUMN = 45.0  # mm: less than this at the foot of a page is not worth beginning


@dataclass(frozen=True)
class Block:
    """Marks that fill ``height`` mm from their own origin down; ``keep``: the next block stays on this page.

    ``head`` is set once more above the block where it opens a page: a table's column titles.
    """

    height: float
    marks: tuple[Mark, ...] = ()
    keep: bool = False
    head: "Block | None" = None

    def at(self, x: float, y: float) -> tuple[Mark, ...]:
        """The marks with the block's corner at (x, y)."""
        return moved(self.marks, x, y)


@dataclass(frozen=True)
class Columns:
    """Narrow blocks read down a left column, then down a right one that begins at ``right`` mm."""

    blocks: tuple[Block, ...]
    right: float
    keep: bool = False

    @property
    def height(self) -> float:
        """Room to ask for before the first block: all of it when it is short, else a good beginning."""
        return min(self.split()[1], LEAST_COLUMN)

    def split(self) -> tuple[int, float]:
        """Where the right column begins so that both are nearly as long, and how long the longer one is."""
        heights = [block.height for block in self.blocks]
        longer = [max(sum(heights[:k]), sum(heights[k:])) for k in range(len(heights) + 1)]
        best = min(range(len(longer)), key=longer.__getitem__)
        return best, longer[best]

    def dealt(self, room: float) -> tuple["Block", "Columns"]:
        """What goes side by side on a page with ``room`` mm left, and the rest."""
        first, longer = self.split()
        last = len(self.blocks)
        if longer > room:
            first = _fitting(self.blocks, room)
            last = first + _fitting(self.blocks[first:], room)
        pair = beside([(0.0, stack(self.blocks[:first])), (self.right, stack(self.blocks[first:last]))])
        return pair, Columns(self.blocks[last:], self.right)


def _fitting(blocks: Sequence[Block], room: float) -> int:
    """How many of ``blocks`` stand one under another in ``room`` mm."""
    below = accumulate(block.height for block in blocks)
    return sum(1 for low in below if low <= room)


@dataclass(frozen=True)
class Style:
    """How words are set: face, size and leading in points, colour."""

    face: Face = "serif"
    size: float = 10.5
    leading: float = 14.5
    colour: str = INK

    @property
    def line_mm(self) -> float:
        """Height of one line in mm."""
        return self.leading * MM_PER_POINT

    @property
    def drop_mm(self) -> float:
        """From the top of a line to its baseline, in mm: capitals stand in the middle of the line."""
        return (self.leading / 2 + 0.34 * self.size) * MM_PER_POINT


BODY = Style()


def space(height: float) -> Block:
    """Nothing, ``height`` mm of it."""
    return Block(height)


def paragraph(text: str, width: float, style: Style = BODY, keep: bool = False) -> Block:
    """Words broken into lines of at most ``width`` mm."""
    broken = lines(text, style.face, style.size, width)
    marks = tuple(
        Text(0.0, style.drop_mm + n * style.line_mm, line, style.face, style.size, colour=style.colour)
        for n, line in enumerate(broken)
        if line
    )
    return Block(len(broken) * style.line_mm, marks, keep)


def stack(blocks: Iterable[Block], gap: float = 0.0) -> Block:
    """Blocks one under another."""
    y, marks, keep = 0.0, list[Mark](), False
    for n, block in enumerate(blocks):
        y += gap if n else 0.0
        marks += block.at(0.0, y)
        y += block.height
        keep = block.keep
    return Block(y, tuple(marks), keep)


def beside(blocks: Sequence[tuple[float, Block]]) -> Block:
    """Blocks side by side, each at its own x, tops level."""
    marks = tuple(mark for x, block in blocks for mark in block.at(x, 0.0))
    return Block(max((block.height for _, block in blocks), default=0.0), marks)


def numbered(number: str, text: str, width: float, style: Style = BODY, hang: float = 8.0) -> Block:
    """A paragraph with its number hung to the left."""
    mark = Text(hang - 2.5, style.drop_mm, number, "sans bold", style.size - 1.5, "end", style.colour)
    words = paragraph(text, width - hang, style)
    return Block(words.height, (mark, *words.at(hang, 0.0)))
