"""The handout: the booklet's steps with blanks for the student's own colours, goals, times, room for notes.

In: ``Lesson`` and the grid.  Out: sections for each hand.
"""

from collections.abc import Iterator
from dataclasses import replace

from polestitch.document.said import listed, near_length
from polestitch.sheets.blocks import BODY, Block, Style, paragraph, space
from polestitch.sheets.check_lines import across_line
from polestitch.sheets.closing import closing
from polestitch.sheets.layer_pages import layer_section
from polestitch.sheets.lesson.blanks import Blank, Blanked, blanked, without_colours
from polestitch.sheets.lesson.parts import bullets, facts, rules, subhead
from polestitch.sheets.lesson.rows_said import row_checks
from polestitch.sheets.marking_pages import marking_section
from polestitch.sheets.pages import CELL, SIDE, STEP, Column, Grid, Section, step_columns, table
from polestitch.sheets.sheet import BRASS, INK, MOSS, QUIET, Line, Pen, Text, rectangle
from polestitch.teaching.lesson import Lesson
from polestitch.teaching.minutes import Minutes, time_said
from polestitch.workup import WorkUp

SWATCH_WIDE, SWATCH_HIGH = 22.0, 9.0
CHECK = 100.0
BOLD = Style("sans bold", 9.5, 12.5)
PROMPTS = (
    "My ball: circumference over the poles, round the middle, colour of the wrap",
    "Division, and what I measured differently",
    "Rows and colours I worked",
    "What I would do differently next time",
)


def hands(lesson: Lesson) -> list[tuple[str, WorkUp]]:
    """The right hand's ball, and the left one's where a student is left-handed."""
    planned = lesson.balls.planned
    found: list[tuple[str, WorkUp]] = []
    if lesson.spec.left_handed < lesson.spec.students:
        found.append((planned.build.design.maker.hand, planned))
    if lesson.balls.left is not None:
        found.append(("left", lesson.balls.left))
    return found


def handout_sections(lesson: Lesson, hand: str, work: WorkUp, grid: Grid) -> Iterator[Section]:
    """One hand's handout."""
    blank = blanked(work)
    yield Section(work.build.design.name, MOSS, tuple(_front(lesson, hand, blank, grid)), f"for the {hand} hand")
    if any(seat.measured for seat in lesson.seats):
        yield Section("If your ball is different", MOSS, tuple(_others(lesson, blank, grid)))
    if not lesson.spec.prepared.base:
        steps = ((str(step.number), step.text) for step in blank.told.instructions.of("base"))
        yield Section("The base", BRASS, (step_columns(steps, grid),))
    yield marking_section(blank.told, grid)
    for layer in range(len(blank.told.build.design.layers)):
        yield layer_section(blank.told, layer, grid)
    yield closing(blank.told, grid)
    yield Section("My notes", BRASS, tuple(_notes(grid)))


def _front(lesson: Lesson, hand: str, blank: Blanked, grid: Grid) -> Iterator[Block]:
    spec = lesson.spec
    yield paragraph(spec.title, grid.width, Style("serif italic", 13, 18, QUIET))
    yield space(2.0)
    yield from facts(spec, grid)
    yield from rules(1, grid, "My name and number")
    goals = [line.strip() for line in spec.goals.splitlines() if line.strip()]
    if goals:
        yield from subhead("What you take home", grid)
        yield from bullets(goals, grid)
    yield from subhead("Your colours", grid)
    yield paragraph(
        "Choose your own. Fill each box, write the name on the line, and lay the thread across it before you stitch.",
        grid.span(10),
        SIDE,
        keep=True,
    )
    yield space(2.0)
    for one in blank.blanks:
        yield _colour(lesson, one, grid)
    yield from subhead("Times", grid)
    yield from _times(lesson, grid)
    yield from _print_check(grid)


def _colour(lesson: Lesson, one: Blank, grid: Grid) -> Block:
    """An empty box, the letter, a rule to write on, and how much of it there is in the kit."""
    cuts = next((t for t in lesson.bundles[0].threads if t.thread == one.index), None)
    units = lesson.balls.planned.build.design.maker.units
    much = f"{one.thread.size}; about {near_length(cuts.mm, units)}" if cuts else one.thread.size
    if cuts and cuts.marking:
        much += ", marking too"
    left = SWATCH_WIDE + 4.0
    rule = left + 24.0
    marks = (
        rectangle((0.0, 0.0, SWATCH_WIDE, SWATCH_HIGH), Pen(INK, 0.25)),
        Text(left, SWATCH_HIGH - 3.0, one.called, "sans bold", 9.5),
        Line(rule, SWATCH_HIGH - 2.4, grid.x(8), SWATCH_HIGH - 2.4, Pen(INK, 0.2)),
        Text(grid.width, SWATCH_HIGH - 3.0, much, "sans", 8.5, "end", QUIET),
    )
    return Block(SWATCH_HIGH + 2.6, marks)


def _times(lesson: Lesson, grid: Grid) -> list[Block]:
    """What each stage takes, prepared ones said so; the last column is hers."""
    ready = len(lesson.timeline.beforehand)
    rows = []
    for k, stage in enumerate(lesson.stages):
        said = "prepared for you" if k < ready else f"{time_said(stage.minutes.likely)}, {_between(stage.minutes)}"
        rows.append((str(k + 1), stage.title, said, ""))
    columns = (
        Column("", 0.0, 6.0, BOLD),
        Column("Stage", 8.0, grid.span(5) - 8.0),
        Column("For most", grid.x(5), grid.span(4), CELL),
        Column("I needed", grid.x(9), grid.span(3), CELL),
    )
    blocks = table(columns, rows, grid.width)
    return [replace(block, keep=True) for block in blocks[:-1]] + blocks[-1:]


def _between(minutes: Minutes) -> str:
    return f"{time_said(minutes.low)} to {time_said(minutes.high)}"


def _print_check(grid: Grid) -> Iterator[Block]:
    yield Block(16.0, across_line(0.0, 12.0, CHECK, "This line is 100 mm long if the charts are at the size they say."))


def _others(lesson: Lesson, blank: Blanked, grid: Grid) -> Iterator[Block]:
    """What stands elsewhere on every measured ball: the strip's part, rows that change, first and last rows."""
    planned = lesson.balls.planned
    units = planned.build.design.maker.units
    said = f"Every distance in this handout is for a ball {near_length(planned.build.ball.around_mm, units)} round. "
    yield paragraph(f"{said}With another one, mark it with your own strip and take these.", grid.span(10), BODY)
    shown: set[float] = set()
    for seat, work in zip(lesson.seats, lesson.balls.of_seats):
        if not seat.measured or seat.around_mm in shown:
            continue
        shown.add(seat.around_mm)
        names = listed([one.name for one in lesson.seats if one.around_mm == seat.around_mm])
        yield from subhead(f"{near_length(seat.around_mm, units)} round: {names}", grid)
        sentences = (*seat.changes[1:], *row_checks(work))  # the first change is the size itself
        yield from bullets((without_colours(text, blank.blanks) for text in sentences), grid, 11, STEP)


def _notes(grid: Grid) -> Iterator[Block]:
    for prompt in PROMPTS:
        yield from rules(4, grid, prompt)
        yield space(3.0)
    yield paragraph("Write it while you know it: it is the pattern for your next ball.", grid.span(9), BODY)
