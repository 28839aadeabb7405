"""The teacher's plan: whether it fits, the sessions as bars, what to prepare, show and check, and what goes wrong.

In: ``Lesson`` and the grid.  Out: sections.
"""

from collections.abc import Iterator

from polestitch.document.said import listed
from polestitch.estimate.hours import Assumption
from polestitch.sheets.blocks import BODY, Block, Style, paragraph, space
from polestitch.sheets.lesson.bars import bars
from polestitch.sheets.lesson.parts import SMALL, STRONG, bullets, facts, subhead
from polestitch.sheets.lesson.rows_said import row_checks
from polestitch.sheets.pages import CELL, SIDE, Column, Grid, Section, table
from polestitch.sheets.sheet import INDIGO
from polestitch.steps import instructions
from polestitch.steps.ball import CAUTIONS
from polestitch.teaching.lesson import Lesson
from polestitch.teaching.minutes import time_said
from polestitch.teaching.told import assumptions, prepared_minutes

BOLD = Style("sans bold", 8.5, 11.5)


def plan_sections(lesson: Lesson, grid: Grid) -> list[Section]:
    """Time, then showing and checking, then faults and what the figures rest on."""
    return [
        Section(lesson.spec.title, INDIGO, tuple(_time(lesson, grid))),
        Section("Show and check", INDIGO, tuple(_show_and_check(lesson, grid))),
        Section("Faults and cautions", INDIGO, tuple(_faults(lesson, grid))),
    ]


def _time(lesson: Lesson, grid: Grid) -> Iterator[Block]:
    spec, found = lesson.spec, lesson.timeline
    yield from facts(spec, grid)
    design = lesson.balls.planned.build.design
    left = f", {spec.left_handed} of them left-handed" if spec.left_handed else ""
    kits = f"{spec.spare_kits} spare kit{'' if spec.spare_kits == 1 else 's'}"
    yield paragraph(f"{design.name}. {spec.students} students{left}, {kits}.", grid.width, BODY)
    yield space(2.0)
    yield paragraph(lesson.verdict, grid.span(11), STRONG)
    if lesson.remedies:
        yield space(1.5)
        yield from bullets((one.sentence for one in lesson.remedies), grid)
    yield from subhead("The sessions", grid)
    words = (
        f"Most hands. Hatched: {time_said(spec.talk)} a session for welcome, showing, tidying. Numbers: see the table."
    )
    yield paragraph(words, grid.width, SIDE, keep=True)
    yield space(1.5)
    yield bars(found.meetings, grid.width, len(found.beforehand))
    for k, meeting in enumerate(found.meetings, 1):
        title = f" {meeting.title}." if meeting.title else ""
        yield paragraph(f"Session {k}:{title} {meeting.stop or 'Everything is done.'}", grid.width, BODY)
    yield space(3.0)
    yield from _stages(lesson, grid)
    yield from _before(lesson, grid)


def _stages(lesson: Lesson, grid: Grid) -> list[Block]:
    ready = len(lesson.timeline.beforehand)
    rows = [
        (
            str(k + 1),
            stage.title + (" (prepared)" if k < ready else ""),
            *(time_said(stage.minutes.of(hand)) for hand in ("low", "likely", "high")),
        )
        for k, stage in enumerate(lesson.stages)
    ]
    columns = (
        Column("", 0.0, 6.0, BOLD),
        Column("Stage", 8.0, grid.span(6) - 8.0),
        Column("Quick hand", grid.x(6), grid.span(2), CELL, right=True),
        Column("Most", grid.x(8), grid.span(2), BOLD, right=True),
        Column("Slow hand", grid.x(10), grid.span(2), CELL, right=True),
    )
    return table(columns, rows, grid.width)


def _before(lesson: Lesson, grid: Grid) -> Iterator[Block]:
    """What to do at home, and how long that takes a maker."""
    ready, minutes = lesson.timeline.beforehand, prepared_minutes(lesson)
    yield from subhead("Before the class", grid)
    lines = ["Cut the thread after the cut list, and number the bundles.", "Print handouts and strips at 100 %."]
    if ready:
        balls = lesson.spec.students + lesson.spec.spare_kits
        said = listed([stage.title[:1].lower() + stage.title[1:] for stage in ready])
        lines.insert(
            0,
            f"Prepare {balls} balls: {said}. That takes one pair of practised hands about "
            f"{time_said(minutes.likely)} ({time_said(minutes.low)} to {time_said(minutes.high)}).",
        )
    if any(seat.measured for seat in lesson.seats):
        lines.append("Every ball has its own strip: give each student the one with her number.")
    yield from bullets(lines, grid)


def _show_and_check(lesson: Lesson, grid: Grid) -> Iterator[Block]:
    yield from subhead("Show once to everybody", grid)
    columns = (
        Column("Step", 0.0, 11.0, BOLD),
        Column("What", 13.0, grid.span(4) - 13.0),
        Column("The chair says", grid.x(4), grid.span(8), CELL),
    )
    rows = [(str(one.step + 1), one.title, one.say) for one in lesson.moments]
    yield from table(columns, rows, grid.width)
    yield space(2.0)
    if lesson.balls.left is not None:
        yield paragraph(
            "For left-handed students every side is mirrored: show it once more facing them, or in the left-handed "
            "teaching view.",
            grid.span(10),
            BODY,
        )
    yield from subhead("Check at each stage", grid)
    yield from bullets(_checks(lesson), grid)


def _checks(lesson: Lesson) -> Iterator[str]:
    """What to look at before a student goes on."""
    work = lesson.balls.planned
    if not lesson.spec.prepared.base:
        yield "Base: measure each ball over the poles in two directions and round the middle, and write it down."
    if not lesson.spec.prepared.marking:
        text = instructions(work.build, work.pins, work.way)
        yield from (f"Pins. {step.text}" for step in text.of("marking") if step.text.startswith("Check:"))
        yield "Lines: straight, and past every pin on the same side, before a single crossing is tacked."
    yield from row_checks(work)
    pins = len(work.pins)
    yield f"At the end: {pins} pins and all needles out of every ball, counted by two people."


def _faults(lesson: Lesson, grid: Grid) -> Iterator[Block]:
    columns = (
        Column("You see", 0.0, grid.span(3), BOLD),
        Column("Why", grid.x(3), grid.span(3)),
        Column("What helps", grid.x(6), grid.span(3)),
        Column("Read at", grid.x(9), grid.span(3), SMALL),
    )
    rows = [(one.seen, one.why, one.mend, one.source.replace("/", "/ ")) for one in lesson.faults]
    yield from table(columns, rows, grid.width)
    yield from subhead("Take care", grid)
    yield from bullets(CAUTIONS, grid)
    yield from subhead("What the times rest on", grid)
    yield from bullets((_assumed(one) for one in assumptions(lesson)), grid, 12, Style("sans", 8.5, 11.5))


def _assumed(one: Assumption) -> str:
    span = f"{one.likely:g}" if one.low == one.high else f"{one.low:g} to {one.high:g}, likely {one.likely:g}"
    return f"{one.label}: {span} {one.unit} ({one.source})."
