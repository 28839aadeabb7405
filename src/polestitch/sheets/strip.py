"""The paper strip at true size on sheets to print and cut, with how to use it and how to fold a blank one.

In: a division, the circumference and a paper.  Out: sheets, or their PDF.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from polestitch.errors import DesignError
from polestitch.marking.divisions import marked
from polestitch.sheets.blocks import Block
from polestitch.sheets.check_lines import down_line, wide_across_line
from polestitch.sheets.pdf import pdf
from polestitch.sheets.sheet import EDGE, MARGIN, QUIET, Mark, Paper, Sheet, Text, paper_named
from polestitch.sheets.strip_column import COLUMN, GLUE_TAB, PIN_TAB, column
from polestitch.sheets.strip_words import words
from polestitch.sheets.ticks import Piece, Tick, pieces, ticks

SMALLEST_MM, LARGEST_MM = 40.0, 2000.0
GAP = 6.0  # between columns
WIDEST, NARROWEST = 105.0, 55.0  # column of words


@dataclass(frozen=True)
class Frame:
    """Where things stand on a page of this paper."""

    paper: Paper

    @property
    def across_y(self) -> float:
        """Height of the check line across."""
        return self.paper.height - EDGE - 1.8

    @property
    def check_x(self) -> float:
        """Place of the check line down."""
        return self.paper.width - MARGIN - 1.0

    @property
    def room(self) -> float:
        """Length of strip and tabs a column holds."""
        return self.across_y - 6.0 - EDGE

    def words_x(self, columns: int) -> float:
        """Left edge of the words beside ``columns`` columns."""
        return MARGIN + columns * (COLUMN + GAP) + (2.0 if columns else 0.0)

    def words_width(self, columns: int) -> float:
        """Width left for words beside ``columns`` columns."""
        return min(self.check_x - 7.0 - self.words_x(columns), WIDEST)


def strip(division: str, around_mm: float, paper: str = "a4") -> bytes:
    """The strip as PDF."""
    return pdf(strip_sheets(division, around_mm, paper))


def strip_sheets(division: str, around_mm: float, paper: str = "a4") -> tuple[Sheet, ...]:
    """The strip as sheets; ``DesignError`` for a circumference no ball here has, or another paper."""
    if not SMALLEST_MM <= around_mm <= LARGEST_MM:
        raise DesignError("--around", f"a strip can be {SMALLEST_MM:.0f} mm to 2 m long; measure round the ball again")
    frame, marking, marks = Frame(paper_named(paper)), marked(division), ticks(division, around_mm)
    cut = cut_for(frame, marks, around_mm)
    told = words(marking, around_mm, len(cut), frame.words_width(min(len(cut), 2)))
    return laid_out(frame, marks, cut, told, f"Paper strip, {marking.division}, {around_mm:g} mm round")


def cut_for(frame: Frame, marks: tuple[Tick, ...], length_mm: float) -> tuple[Piece, ...]:
    """A strip of this length in pieces that the page holds."""
    return pieces(marks, length_mm, frame.room - PIN_TAB, frame.room - PIN_TAB - GLUE_TAB)


def laid_out(
    frame: Frame, marks: Sequence[Tick], cut: Sequence[Piece], told: list[Block], title: str
) -> tuple[Sheet, ...]:
    """Sheets with every piece at true size, what is ``told`` beside them, and the check lines."""
    bodies = _bodies(frame, [column(marks, cut, number) for number in range(len(cut))], told)
    return tuple(
        Sheet(frame.paper, (*body, _folio(frame, f"{n} of {len(bodies)}")), title) for n, body in enumerate(bodies, 1)
    )


def _bodies(frame: Frame, columns: list[Block], told: list[Block]) -> list[tuple[Mark, ...]]:
    """Pages until all columns and words are placed: two columns beside words, three without.

    Words that find no room beside the columns go under them where the columns are short; a short
    part that fits neither there nor in order still takes the room left beside them.
    """
    beside = min(len(columns), 2)
    pages = []
    while columns or told:
        count = 2 if told else 3
        here, columns = columns[:count], columns[count:]
        right, told = _parted(told, frame.room)
        low = max((block.height for block in here), default=frame.room)
        under, told = _parted(told, frame.room - low if len(here) == 2 else 0.0)
        late, told = _parted(told, frame.room - sum(block.height for block in right))
        pages.append((*_body(frame, here, [*right, *late], beside), *_words_at(under, MARGIN, EDGE + low)))
    return pages


def _parted(told: list[Block], room: float) -> tuple[list[Block], list[Block]]:
    fitting = _fitting(told, room)
    return told[:fitting], told[fitting:]


def _fitting(told: Sequence[Block], room: float) -> int:
    """How many of the blocks fit, those that keep company together; none where not even the first company does."""
    height, fitting = 0.0, 0
    for count, block in enumerate(told, 1):
        height += block.height
        if height > room:
            return fitting
        fitting = fitting if block.keep else count
    return len(told)


def _words_at(told: Sequence[Block], x: float, y: float) -> list[Mark]:
    marks: list[Mark] = []
    for block in told:
        marks += block.at(x, y)
        y += block.height
    return marks


def _body(frame: Frame, columns: Sequence[Block], told: Sequence[Block], beside: int) -> tuple[Mark, ...]:
    marks: list[Mark] = []
    for number, block in enumerate(columns):
        marks += block.at(MARGIN + number * (COLUMN + GAP), EDGE)
    marks += _words_at(told, frame.words_x(beside), EDGE)
    top = EDGE + (frame.room - 200) / 2
    marks += down_line(frame.check_x, top, 200.0, "200 mm down, end to end")
    marks += wide_across_line(frame.paper, frame.across_y)
    return tuple(marks)


def _folio(frame: Frame, text: str) -> Text:
    return Text(frame.paper.width - MARGIN, frame.across_y - 4.5, text, "sans", 7.5, "end", QUIET)
