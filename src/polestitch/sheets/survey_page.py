"""Sheets of the pin survey: one to fill in beside the ball, and one that says which pins to move.

In: a marking, her ball, and what was asked or found.  Out: sheets, or their PDF.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from polestitch.marking.marking import Marking
from polestitch.marking.pins import pin_plan
from polestitch.sheets.blocks import BODY, Block, Columns, Style, paragraph, space
from polestitch.sheets.pages import CELL, SIDE, SUBHEAD, Column, Grid, Section, flowed, numbered_sheets, table
from polestitch.sheets.pdf import pdf
from polestitch.sheets.pin_chart import pin_chart
from polestitch.sheets.sheet import BRASS, INK, QUIET, Line, Pen, Sheet, paper_named, rectangle
from polestitch.sheets.survey_chart import Surveyed, survey_chart, times_longer
from polestitch.survey.field import Measured
from polestitch.survey.form import Asked
from polestitch.survey.survey import Judged, Survey
from polestitch.survey.told import move_sentence, said

Blocks = tuple[Block | Columns, ...]
BOLD = Style("sans bold", 8.5, 11.5)
TICK = 3.2
CAUTION = (
    "Pins are sharp and easily lost in soft work. Count them before you begin and at the end, keep them from children "
    "and animals, and follow local rules for toys and exhibitions; ask somebody qualified where you are in doubt."
)


@dataclass(frozen=True, eq=False)
class Told:
    """What a finished survey's sheet tells."""

    name: str
    marking: Marking
    found: Survey
    motifs: tuple[str, ...] = ()  # what it does to the design, in sentences
    refused: tuple[str, ...] = ()  # readings that cannot be, in sentences


def form_pdf(name: str, marking: Marking, measured: Measured, asked: Sequence[Asked], paper: str = "a4") -> bytes:
    """The sheet to fill in as PDF."""
    return pdf(form_sheets(name, marking, measured, asked, paper), f"Pins to measure, {name}")


def survey_pdf(told: Told, paper: str = "a4") -> bytes:
    """The finished survey as PDF."""
    return pdf(survey_sheets(told, paper), f"Pin survey, {told.name}")


def form_sheets(
    name: str, marking: Marking, measured: Measured, asked: Sequence[Asked], paper: str = "a4"
) -> tuple[Sheet, ...]:
    """A map of the pins, and numbered distances with a blank each; ``DesignError`` for another paper."""
    grid = Grid(paper_named(paper))
    pins = pin_plan(marking, measured.ball, measured.roundness)
    number = {pin.point: str(k) for k, pin in enumerate(pins, 1)}
    how = (
        f"{name}: {marking.division} on a ball {measured.ball.around_mm:g} mm round. Lay the strip straight "
        "from the middle of one pin to the middle of the other. Write what it reads, to half a millimetre, without "
        'looking at "should be" first. Leave a line empty where you did not measure. Then write the numbers into the '
        "studio’s survey page, or into the table that belongs to this sheet."
    )
    blocks: Blocks = (
        paragraph(how, grid.span(11), BODY),
        space(3.0),
        pin_chart(marking, pins, grid.width),
        paragraph("Numbers on pins: the order they went in, as on the marking pages.", grid.width, SIDE),
        space(4.0),
        *_subhead(f"{len(asked)} distances to measure", grid),
        *_asked(asked, number, grid),
        space(5.0),
        paragraph(CAUTION, grid.span(11), SIDE),
    )
    return _sheets(Section("Pins to measure", BRASS, blocks), grid, name)


def survey_sheets(told: Told, paper: str = "a4") -> tuple[Sheet, ...]:
    """The chart with arrows, moves to tick off, readings to take again, readings to take next."""
    grid = Grid(paper_named(paper))
    drawn = Surveyed(told.marking, told.found)
    blocks: Blocks = (
        paragraph(_facts(told.found), grid.span(11), BODY),
        space(2.0),
        *(paragraph(words, grid.width, SIDE) for words in (*told.refused, *said(told.found), *told.motifs)),
        space(2.0),
        survey_chart(drawn, grid.width),
        paragraph(_signs(drawn, grid), grid.width, SIDE),
        space(3.0),
        *_moves(told.found, grid),
        *_again(told.found, grid),
        *_with_caution(_next(told.found, grid), grid),
    )
    return _sheets(Section("Pin survey", BRASS, blocks), grid, told.name)


def _sheets(section: Section, grid: Grid, name: str) -> tuple[Sheet, ...]:
    return numbered_sheets(flowed((section,), grid), grid.paper, name)


def _with_caution(blocks: Blocks, grid: Grid) -> Blocks:
    """The last table, and the caution on the same page as its end."""
    caution = paragraph(CAUTION, grid.width, SIDE)
    below = Block(caution.height + 3.0, tuple(mark.moved(0.0, 3.0) for mark in caution.marks))
    if not blocks:
        return (below,)
    *rest, last = blocks
    return (*rest, replace(last, keep=True) if isinstance(last, Block) else last, below)


def _subhead(words: str, grid: Grid) -> Blocks:
    return (Block(SUBHEAD.line_mm + 1.5, paragraph(words, grid.width, SUBHEAD).marks, keep=True),)


def _asked(asked: Sequence[Asked], number: dict[str, str], grid: Grid) -> list[Block]:
    """Two distances a line, each with a rule to write on; the blank columns are told by their titles."""

    def named(point: str) -> str:
        return f"{point} ({number[point]})" if point in number else point

    half = grid.width / 2
    columns, rows = list[Column](), list[tuple[str, ...]]()
    for x in (0.0, half + 2.0):
        columns += [
            Column("", x, 8.0, BOLD),
            Column("From", x + 8.0, 24.0),
            Column("To", x + 33.0, 24.0),
            Column("Should be", x + 56.0, 14.0, Style("sans", 8.5, 11.5, QUIET), right=True),
            Column("Reads, mm", x + 73.0, half - 77.0),
        ]
    cells = [(str(k), named(one.first), named(one.second), f"{one.mm:.1f}", "") for k, one in enumerate(asked, 1)]
    empty = ("",) * 5
    for k in range(0, len(cells), 2):  # across, so that the numbers run on where the page ends
        rows.append((*cells[k], *(cells[k + 1] if k + 1 < len(cells) else empty)))
    told = table(columns, rows, grid.width)
    return [told[0], *(_blanks(block, half, 2 if row[5] else 1) for block, row in zip(told[1:], rows, strict=True))]


def _blanks(block: Block, half: float, count: int) -> Block:
    """A row with something to write on, once or twice."""
    low, starts = block.height - 1.0, (0.0, half + 2.0)[:count]
    rules = tuple(Line(x + 73.0, low, x + half - 4.0, low, Pen(INK, 0.2, (0.4, 0.6))) for x in starts)
    return Block(block.height + 1.2, (*block.marks, *rules), block.keep, block.head)


def _facts(found: Survey) -> str:
    off = found.off_mm[found.turned.known]
    stand = int(found.turned.stands.sum())
    return (
        f"{len(found.judged)} readings, {found.around_mm:.0f} mm round. {stand} of {len(found.names)} pins stand "
        f"within {found.care.near_mm:g} mm; the worst is {off.max(initial=0.0):.1f} mm off, the "
        f"mean {off.mean():.1f} mm."
    )


def _signs(drawn: Surveyed, grid: Grid) -> str:
    """What the chart's signs mean."""
    times = times_longer(drawn, grid.width)
    length = f"drawn {times} times as long as on this map" if times > 1 else "as long as on this map"
    return (
        "Numbered discs: pins to move, in the order of the list, each with the way it goes; arrows are "
        f"{length}. Rings: pins that stay. Crosses: pins that no reading fixes. Dotted lines: measure again. "
        "Dashed lines: measure next."
    )


def _moves(found: Survey, grid: Grid) -> Blocks:
    if not found.moves:
        return ()
    columns = (
        Column("", 0.0, 7.0),
        Column("", 7.0, 7.0, BOLD),
        Column("Pin", 14.0, 28.0, BOLD),
        Column("Off by", 42.0, 16.0, right=True),
        Column("How", 62.0, grid.width - 62.0, CELL),
    )
    rows = [
        (" ", str(number), move.point, f"{move.mm:.1f} mm", move_sentence(move))
        for number, move in enumerate(found.moves, 1)
    ]
    told = table(columns, rows, grid.width)
    box = rectangle((0.6, 1.0, 0.6 + TICK, 1.0 + TICK), Pen(INK, 0.25))
    ticked = (Block(b.height, (*b.marks, box), b.keep, b.head) for b in told[1:])
    return (*_subhead("Move these pins, one after the other", grid), told[0], *ticked, space(4.0))


def _again(found: Survey, grid: Grid) -> Blocks:
    wrong = [one for one in found.judged if one.misread]
    if not wrong:
        return ()
    columns = _reading_columns(grid, "Why")
    rows = [(" ", one.reading.first, one.reading.second, f"{one.reading.mm:g}", _why(one)) for one in wrong]
    return (*_subhead("Measure these again", grid), *table(columns, rows, grid.width), space(4.0))


def _why(one: Judged) -> str:
    others = ", ".join(f"{twin.first} to {twin.second}" for twin in one.twins[:3])
    return f"the others make it {one.reading.mm - one.off_mm:.1f} mm" + (f"; or it was {others}" if others else "")


def _next(found: Survey, grid: Grid) -> Blocks:
    if not found.next:
        return ()
    columns = _reading_columns(grid, "Takes off the mean doubt")
    rows = [(" ", one.first, one.second, "", f"{one.gain_mm:.2f} mm") for one in found.next]
    return (*_subhead("Measure these next", grid), *table(columns, rows, grid.width))


def _reading_columns(grid: Grid, last: str) -> tuple[Column, ...]:
    return (
        Column("", 0.0, 4.0),
        Column("From", 5.0, 36.0, BOLD),
        Column("To", 43.0, 36.0, BOLD),
        Column("Reads, mm", 80.0, 22.0),
        Column(last, 104.0, grid.width - 104.0, CELL),
    )
