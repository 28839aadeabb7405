"""A paper strip for every student's own ball, at true size, with her number on it, several on a page.

In: a division, and who has which ball.  Out: sheets with the check lines of 200 mm each way.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from polestitch.errors import DesignError
from polestitch.sheets.blocks import Block, Style, numbered, paragraph, space, stack
from polestitch.sheets.check_lines import down_line, wide_across_line
from polestitch.sheets.sheet import EDGE, INK, MARGIN, QUIET, Mark, Sheet, Text, paper_named
from polestitch.sheets.strip import LARGEST_MM, SMALLEST_MM, Frame
from polestitch.sheets.strip_column import COLUMN, GLUE_TAB, PIN_TAB, WIDTH, column
from polestitch.sheets.strip_words import CAUTIONS, CHECK, USE
from polestitch.sheets.ticks import Tick, pieces, ticks
from polestitch.teaching.lesson import Seat

GAP = 8.0  # between columns; the student's name runs down it
NAME, NUMBER = 8.0, 5.0  # points
NUMBER_ROOM = 9.0  # mm between two ticks that the number on the strip needs
HEAD, TEXT = Style("sans bold", 8.5, 13), Style("serif", 9.5, 12.6)


@dataclass(frozen=True)
class _Column:
    """One piece of a strip with its owner's name beside it."""

    block: Block
    name: str


def class_strip_sheets(division: str, seats: Sequence[Seat], title: str, paper: str = "a4") -> tuple[Sheet, ...]:
    """One strip a student, as many as fit on each page, the words after them."""
    frame = Frame(paper_named(paper))
    columns = [column for seat in seats for column in _of(division, seat, frame)]
    many = int((frame.check_x - 6.0 - MARGIN) // (COLUMN + GAP))
    bodies = [_body(frame, columns[k : k + many]) for k in range(0, len(columns), many)]
    spare = many - (len(columns) - 1) % many - 1
    words = _words(frame, spare)
    left = MARGIN + (many - spare) * (COLUMN + GAP)
    if spare and words.height <= frame.room:
        bodies[-1] += [*words.at(left, EDGE)]
    else:
        bodies.append([*_words(frame, many).at(MARGIN, EDGE), *_checks(frame)])
    return tuple(
        Sheet(frame.paper, (*body, _folio(frame, f"{n} of {len(bodies)}")), title) for n, body in enumerate(bodies, 1)
    )


def _of(division: str, seat: Seat, frame: Frame) -> Iterator[_Column]:
    if not SMALLEST_MM <= seat.around_mm <= LARGEST_MM:
        what = f"a strip can be {SMALLEST_MM:.0f} mm to 2 m long; measure the ball of {seat.name} again"
        raise DesignError(f"named[{seat.number - 1}].around", what)
    marks = ticks(division, seat.around_mm)
    cut = pieces(marks, seat.around_mm, frame.room - PIN_TAB, frame.room - PIN_TAB - GLUE_TAB)
    for number, piece in enumerate(cut):
        part = f", piece {number + 1} of {len(cut)}" if len(cut) > 1 else ""
        top = PIN_TAB if number == 0 else 0.0
        here = [tick for tick in marks if piece.start - 1e-9 <= tick.at_mm <= piece.end + 1e-9]
        block = column(marks, cut, number)
        owned = Block(block.height, (*block.marks, *_number(seat.number, here, top - piece.start)))
        name = seat.numbered.replace(" ", "   ", 1) if seat.named else seat.name
        yield _Column(owned, f"{name}   {seat.around_mm:g} mm round{part}")


def _number(number: int, here: Sequence[Tick], shift: float) -> Iterator[Mark]:
    """The student's number on both copies, where the ticks leave room, so that a cut strip still knows its owner."""
    gaps = [(a.at_mm, b.at_mm) for a, b in pairwise(here) if b.at_mm - a.at_mm >= NUMBER_ROOM]
    if gaps:
        y = gaps[0][0] + (gaps[0][1] - gaps[0][0]) / 2 - 1.0 + shift
        for x in (WIDTH / 2, COLUMN - WIDTH / 2):
            yield Text(x + 0.6, y, f"no. {number}", "sans bold", NUMBER, "middle", INK, turn=-90)


def _body(frame: Frame, columns: Sequence[_Column]) -> list[Mark]:
    marks: list[Mark] = []
    for k, one in enumerate(columns):
        left = MARGIN + k * (COLUMN + GAP)
        marks += one.block.at(left, EDGE)
        marks.append(Text(left + COLUMN + 3.6, EDGE + 2.0, one.name, "sans bold", NAME, "start", INK, turn=90))
    return [*marks, *_checks(frame)]


def _checks(frame: Frame) -> list[Mark]:
    top = EDGE + (frame.room - 200) / 2
    return [
        *down_line(frame.check_x, top, 200.0, "200 mm down, end to end"),
        *wide_across_line(frame.paper, frame.across_y),
    ]


def _words(frame: Frame, columns: int) -> Block:
    """How to check and use the strips, so many columns wide."""
    width = min(105.0, max(1, columns) * (COLUMN + GAP) - GAP)
    lists = (("Check the print", CHECK), ("Use your strip", USE), ("Take care", CAUTIONS))
    blocks = []
    for head, items in lists:
        blocks.append(paragraph(head, width, HEAD))
        blocks += [numbered(str(n), item, width, TEXT, 5.5) for n, item in enumerate(items, 1)]
        blocks.append(space(3.0))
    return stack(blocks, 0.8)


def _folio(frame: Frame, text: str) -> Text:
    return Text(frame.paper.width - MARGIN, frame.across_y - 4.5, text, "sans", 7.5, "end", QUIET)
