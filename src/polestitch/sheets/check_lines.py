"""Check lines: a length a ruler can hold against the page, to see whether the printer scaled it.

In: where and how long, in mm.  Out: marks.  The line itself has the exact length; ticks stand at its ends.
"""

from polestitch.sheets.sheet import INK, QUIET, Line, Mark, Paper, Pen, Text

HALF_TICK = 1.6
PEN = Pen(INK, 0.2)


def down_line(x: float, top: float, length: float, words: str) -> tuple[Mark, ...]:
    """A line down the page, its words beside it, reading upwards."""
    ends = tuple(Line(x - HALF_TICK, y, x + HALF_TICK, y, PEN) for y in (top, top + length))
    middle = Text(x - 1.2, top + length / 2, words, "sans", 7.5, "middle", QUIET, turn=-90)
    return (Line(x, top, x, top + length, PEN), *ends, middle)


def across_line(left: float, y: float, length: float, words: str) -> tuple[Mark, ...]:
    """A line across the page, its words above it."""
    ends = tuple(Line(x, y - HALF_TICK, x, y + HALF_TICK, PEN) for x in (left, left + length))
    return (
        Line(left, y, left + length, y, PEN),
        *ends,
        Text(left + length / 2, y - 1.2, words, "sans", 7.5, "middle", QUIET),
    )


def wide_across_line(paper: Paper, y: float) -> tuple[Mark, ...]:
    """200 mm across the page, and inside it 180 mm within the margins.

    200 mm leave 5 mm a side on A4, less than some printers reach: where an end is cut off, the
    inner ticks still measure 180 mm.
    """
    left, inner = (paper.width - 200) / 2, (paper.width - 180) / 2
    ticks = tuple(Line(x, y - 1.0, x, y + 1.0, PEN) for x in (inner, inner + 180))
    words = "200 mm across, end to end   (180 mm between the inner ticks, if your printer cuts off an end)"
    return (*across_line(left, y, 200.0, words), *ticks)
