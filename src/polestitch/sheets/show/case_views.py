"""A case drawn to scale: from the front, from above, and the bar that proves the scale.

In: a ``CasePlan``, a scale such as 5 for 1 : 5.  Out: blocks.
"""

from collections.abc import Iterator

from polestitch.sheets.blocks import Block
from polestitch.sheets.lettering import width_mm
from polestitch.sheets.pages import Grid
from polestitch.sheets.sheet import INK, QUIET, Box, Circle, Line, Mark, Pen, Text, rectangle
from polestitch.showing.caseplan import SIDE, Ball, CasePlan, ShelfPlan

SCALES = (2, 5, 10, 20, 50, 100)
FRONT_SHARE = 0.5  # of the page for the view from the front
ROOM = 9.0  # mm under a shelf for the gaps
GLASS, SHELF, BALL, GAP = Pen(QUIET, 0.25), Pen(INK, 0.5), Pen(INK, 0.35), Pen(QUIET, 0.15)
LETTERS = (9.0, 8.0, 7.0, 6.0, 5.0)


def scale_for(plan: CasePlan, grid: Grid) -> int:
    """The largest usual scale at which the front and one shelf from above fit on a page each."""
    for scale in SCALES:
        wide = plan.width / scale <= grid.width
        tall = _front_height(plan, scale) <= FRONT_SHARE * grid.height
        deep = plan.depth / scale + ROOM <= 0.7 * grid.height
        if wide and tall and deep:
            return scale
    return SCALES[-1]


def _front_height(plan: CasePlan, scale: int) -> float:
    return sum(shelf.clear / scale + ROOM for shelf in plan.shelves)


def scale_bar(scale: int) -> Block:
    """A bar of a round length, told in millimetres of the case."""
    length = next(mm for mm in (1000, 500, 200, 100, 50) if mm / scale <= 110 or mm == 50)
    paper = length / scale
    marks: list[Mark] = [Line(0.0, 5.0, paper, 5.0, Pen(INK, 0.4))]
    for k in range(6):
        marks.append(Line(k * paper / 5, 5.0, k * paper / 5, 3.4, Pen(INK, 0.3)))
    marks.append(Text(paper + 2.5, 5.6, f"{length} mm of the case, {paper:g} mm on paper", "sans", 8, colour=QUIET))
    return Block(10.0, tuple(marks), keep=True)


def from_front(plan: CasePlan, scale: int, grid: Grid) -> Block:
    """Shelves one above the other with their balls, and what is free between them in mm."""
    left = (grid.width - plan.width / scale) / 2
    marks: list[Mark] = []
    y = 0.0
    for shelf in plan.shelves:
        floor = y + shelf.clear / scale
        marks += _frame((left, y, left + plan.width / scale, floor))
        for ball in shelf.balls:
            marks += _ball(ball, left + ball.x / scale, floor - ball.up / scale, scale)
            marks += _stand(ball, left + ball.x / scale, floor, scale)
        marks += _gaps(shelf, plan.width, left, floor, scale)
        y = floor + ROOM
    return Block(y, tuple(marks))


def _frame(box: Box) -> list[Mark]:
    left, top, right, bottom = box
    return [rectangle((left, top, right, bottom), GLASS), Line(left, bottom, right, bottom, SHELF)]


def _ball(ball: Ball, x: float, y: float, scale: int) -> list[Mark]:
    radius = ball.radius / scale
    size = next((size for size in LETTERS if width_mm(ball.number, "sans bold", size) <= 1.8 * radius), LETTERS[-1])
    return [Circle(x, y, radius, BALL), Text(x, y + 0.12 * size, ball.number, "sans bold", size, "middle")]


def _stand(ball: Ball, x: float, floor: float, scale: int) -> list[Mark]:
    """A stand is as high as she said, and drawn half as wide as its ball: its width is not known."""
    if not ball.stand:
        return []
    half = ball.radius / scale / 2
    return [rectangle((x - half, floor - ball.stand / scale, x + half, floor), GAP)]


def _gaps(shelf: ShelfPlan, width: float, left: float, floor: float, scale: int) -> Iterator[Mark]:
    """Free millimetres under the shelf, in the middle of each gap."""
    balls = {ball.number: ball for ball in shelf.balls}
    for gap in shelf.gaps:
        begin = 0.0 if gap.left == SIDE else balls[gap.left].x + balls[gap.left].radius
        end = width if gap.right == SIDE else balls[gap.right].x - balls[gap.right].radius
        x = left + (begin + end) / 2 / scale
        words = f"{gap.mm:.0f}" if gap.mm >= 0 else f"! {gap.mm:.0f}"
        yield Text(x, floor + 4.2, words, "sans", 7.5, "middle", INK)


def from_above(plan: CasePlan, shelf: ShelfPlan, scale: int, grid: Grid) -> Block:
    """One shelf from above, the back at the top."""
    left = (grid.width - plan.width / scale) / 2
    height = plan.depth / scale
    marks: list[Mark] = [rectangle((left, 0.0, left + plan.width / scale, height), GLASS)]
    marks.append(Line(left, 0.0, left + plan.width / scale, 0.0, SHELF))
    for ball in shelf.balls:
        marks += _ball(ball, left + ball.x / scale, ball.back / scale, scale)
    marks.append(Text(left + plan.width / scale / 2, height + 3.8, "front", "sans", 7.5, "middle", QUIET))
    return Block(height + 6.0, tuple(marks))
