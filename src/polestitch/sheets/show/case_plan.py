"""The case plan to scale: each case from the front and each shelf from above, and a table of places.

In: an ``Exhibition``.  Out: PDF.
"""

from collections.abc import Iterator, Mapping

from polestitch.document.said import listed
from polestitch.sheets.blocks import Block, Style, paragraph, space
from polestitch.sheets.pages import CELL, Column, Grid, Section, flowed, table
from polestitch.sheets.pdf import pdf
from polestitch.sheets.sheet import INDIGO, MADDER, Sheet, Text, paper_named
from polestitch.sheets.show.case_views import from_above, from_front, scale_bar, scale_for
from polestitch.sheets.show.listing import LEAD, NOTE, NUMBER, foot, notes, subhead
from polestitch.showing.caseplan import Ball, CasePlan, ShelfPlan, case_plans
from polestitch.showing.exhibition import Exhibition
from polestitch.showing.pieces import pieces

FOUND = Style("sans bold", 9.5, 13.5, MADDER)
# Both from Glasgow Museums' display guidelines, as quoted on two pages; the guidelines themselves were not seen.
DETAIL_MM = 1015.0
SIGHT = (
    "Glasgow Museums' display guidelines, as quoted elsewhere: a cased display lies between 750 and 2000 mm above the "
    "floor, and small things or fine detail no higher than 1015 mm, since above that who sits in a wheelchair or is "
    "small sees them from below. Ask the venue for its own rules."
)
HINT = "A ball is drawn as the sphere of its circumference; tassels, loops and the width of a stand are not drawn."
EMPTY = "No ball is drawn in it."
NO_CASE = "No case is written down for this show; here is the order of the pieces."


def made(exhibition: Exhibition, _pictures: Mapping[str, bytes], size: str) -> bytes:
    """A case after another, each from a new page."""
    grid = Grid(paper_named(size))
    plans = case_plans(exhibition)
    sections = [Section(plan.name, INDIGO, tuple(_case(plan, grid))) for plan in plans]
    bodies = [body for section in sections for body in flowed([section], grid)]
    if unplaced := [*_unplaced(exhibition, grid)]:
        bodies += flowed([Section("Not in a case yet", INDIGO, tuple(unplaced))], grid)
    name = f"{exhibition.title}, case plan"
    sheets = [
        Sheet(grid.paper, (*marks, *foot(grid, name, k, len(bodies))), title)
        for k, (title, marks) in enumerate(bodies, 1)
    ]
    return pdf(sheets, f"{exhibition.title}: case plan")


def _case(plan: CasePlan, grid: Grid) -> Iterator[Block]:
    scale = scale_for(plan, grid)
    inside = f"Inside {plan.width:.0f} mm wide and {plan.depth:.0f} mm deep. Drawn at 1 : {scale}."
    yield paragraph(inside, grid.width, LEAD, keep=True)
    yield scale_bar(scale)
    yield from (subhead("From the front", grid), from_front(plan, scale, grid), space(5.0))
    yield from _findings(plan, grid)
    if not any(shelf.balls for shelf in plan.shelves):
        yield from notes([*_not_drawn(plan), EMPTY], grid)
        return
    yield from (subhead("Where each stands", grid), *_places(plan, grid))
    yield space(5.0)
    for shelf in plan.shelves:
        if shelf.balls:
            name = (
                f"Shelf {shelf.shelf} from above; who looks stands below"
                if len(plan.shelves) > 1
                else ("From above; who looks stands below")
            )
            yield from (subhead(name, grid), from_above(plan, shelf, scale, grid), space(5.0))
    yield from notes((*_not_drawn(plan), HINT, " ".join((SIGHT, *_high(plan)))), grid)


def _high(plan: CasePlan) -> list[str]:
    """Which balls stand higher than who sits looks down on, as far as the shelves' heights are entered."""
    high = [
        ball.number
        for shelf in plan.shelves
        for ball in shelf.balls
        if shelf.from_floor is not None and shelf.from_floor + ball.up > DETAIL_MM
    ]
    return [f"Here the middle of {listed(high)} is higher than {DETAIL_MM:.0f} mm."] if high else []


def _not_drawn(plan: CasePlan) -> list[str]:
    return [f"{number} has no circumference written down, so it is not drawn." for number in plan.unsized]


def _findings(plan: CasePlan, grid: Grid) -> Iterator[Block]:
    """What cannot stand so, with a mark; it comes before the table."""
    for sentence in plan.findings:
        words = paragraph(sentence, grid.width - 6.0, FOUND)
        yield Block(
            words.height + 1.0, (Text(0.0, FOUND.drop_mm, "!", "sans bold", 11, colour=MADDER), *words.at(6.0, 0.0))
        )
    if plan.findings:
        yield space(4.0)


def _places(plan: CasePlan, grid: Grid) -> list[Block]:
    columns = (
        Column("No.", 0.0, 17.0, NUMBER),
        Column("Title", 18.0, 38.0, CELL),
        Column("Shelf", 56.0, 8.0, CELL, right=True),
        Column("From left", 65.0, 13.0, CELL, right=True),
        Column("From back", 79.0, 14.0, CELL, right=True),
        Column("Stand", 94.0, 9.0, CELL, right=True),
        Column("Above floor", 104.0, 16.0, CELL, right=True),
        Column("Turned", 124.0, grid.width - 124.0, CELL),
    )
    rows = [_row(shelf, ball) for shelf in plan.shelves for ball in shelf.balls]
    told = "In mm, to the middle of each ball. Under each shelf in the drawing: mm free between the balls."
    return [*(table(columns, rows, grid.width) if rows else []), space(1.0), paragraph(told, grid.width, NOTE)]


def _row(shelf: ShelfPlan, ball: Ball) -> tuple[str, ...]:
    floor = "" if shelf.from_floor is None else f"{shelf.from_floor + ball.up:.0f}"
    turned = ball.turn or (f"{ball.facing} to the front" if ball.facing else "")
    places = (ball.x, ball.back, ball.stand)
    return ball.number, ball.title, str(shelf.shelf), *(f"{mm:.0f}" for mm in places), floor, turned


def _unplaced(exhibition: Exhibition, grid: Grid) -> Iterator[Block]:
    left = [piece for piece in pieces(exhibition) if not piece.shown.case]
    if not left:
        return
    if not exhibition.cases:
        yield paragraph(NO_CASE, grid.width, LEAD)
        yield space(3.0)
    columns = (Column("No.", 0.0, grid.span(2), NUMBER), Column("Title", grid.x(2), grid.span(8), CELL))
    yield from table(columns, [(piece.record.number, piece.record.title) for piece in left], grid.width)
