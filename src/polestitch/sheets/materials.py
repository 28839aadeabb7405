"""Materials, the base, and a check of the print.

In: ``Told`` and the grid.  Out: a section.
"""

from polestitch.document.design import Thread
from polestitch.document.said import near_length, near_range
from polestitch.document.threads import pitch_mm
from polestitch.doubt import skeins_said
from polestitch.estimate import Amount
from polestitch.sheets.blocks import BODY, Block, Style, paragraph, space, stack
from polestitch.sheets.check_lines import across_line, down_line
from polestitch.sheets.pages import SIDE, SUBHEAD, Grid, Section, step_columns
from polestitch.sheets.sheet import HAIR, MOSS, QUIET, Line, Mark, Pen, Text, rectangle
from polestitch.sheets.told import Told

SWATCH_HEIGHT, CHECK = 10.5, 100.0
STRONG, HEAD = Style("sans bold", 9.5, 12.5), Style("sans bold", 8.5, 12, MOSS)
CELL = Style("sans", 8.5, 11.5)
RULED = {"mm": "millimetres", "in": "inches"}


def materials(told: Told, grid: Grid) -> Section:
    """Ball and threads with swatches and amounts, tools, base, check lines."""
    # A thread of the palette that nothing is worked in need not be gathered.
    used = [k for k, amount in enumerate(told.estimate.threads) if amount.total_mm > 0]
    rows = [_ground(told, grid), *(_thread(told, k, grid) for k in used)]
    blocks = (*rows, *_amounts_note(told, grid), *_tools(told, grid), *_base(told, grid))
    return Section("Materials", MOSS, blocks)


def _swatch(colour: str, width: float) -> tuple[Mark, ...]:
    """Large enough to lay a thread across and compare."""
    return (rectangle((0.0, 0.0, width, SWATCH_HEIGHT), Pen(HAIR, 0.2), colour),)


def _row(swatch: tuple[Mark, ...], name: str, about: str, figures: tuple[str, str], grid: Grid) -> Block:
    """One material: swatch, what it is, how much."""
    middle, right = grid.x(3), grid.width
    words = paragraph(about, grid.span(5), CELL)
    strong, under = figures
    height = max(SWATCH_HEIGHT, 5.0 + words.height)
    marks = [
        *swatch,
        *paragraph(name, grid.span(5), STRONG).at(middle, 0.4),
        *words.at(middle, 5.0),
        Text(right, 3.8, strong, "sans bold", 9.5, "end"),
        Text(right, 8.0, under, "sans", 8.5, "end", QUIET),
        Line(middle, height + 1.4, grid.width, height + 1.4, Pen(HAIR, 0.15)),
    ]
    return Block(height + 2.8, tuple(marks))


def _ground(told: Told, grid: Grid) -> Block:
    ball, units = told.build.design.ball, told.build.design.maker.units
    size = f"{near_length(told.build.ball.around_mm, units)} round"
    across = near_length(2 * told.build.ball.radius_mm, units)
    about = f"{across} across. Wrapped at random in thread of this colour until nothing shows through."
    return _row(_swatch(str(ball.colour), grid.span(3) - 4.0), "Ball", about, (size, str(ball.colour)), grid)


def _thread(told: Told, k: int, grid: Grid) -> Block:
    thread, amount = told.build.design.threads[k], told.estimate.threads[k]
    marking = thread.name == told.build.design.marking.thread
    about = f"{thread.size}, {thread.fibre}{', metallic' if thread.metallic else ''}. {_width(told, thread)}"
    about += _skeins(told, k)
    about += " Also lays the marking." if marking and amount.laid_mm else " For the marking." if marking else ""
    return _row(_swatch(str(thread.colour), grid.span(3) - 4.0), thread.name, about, _figures(told, k, amount), grid)


def _width(told: Told, thread: Thread) -> str:
    pitch = pitch_mm(thread, measures=told.build.design.maker.measures)
    return f"{10 / pitch.mm:.3g} rows to the centimetre."


def _skeins(told: Told, k: int) -> str:
    """How many to take, with the odds that fewer do."""
    skeins = None if told.doubt is None else told.doubt.threads[k].skeins
    return "" if skeins is None or not skeins.take else f" {skeins_said(skeins).capitalize()}."


def _figures(told: Told, k: int, amount: Amount) -> tuple[str, str]:
    """Metres with their doubt, and what is drawn in lengths."""
    lengths = f"{amount.lengths} length{'s' if amount.lengths != 1 else ''} of {told.build.design.maker.working_length}"
    units = told.build.design.maker.units
    if told.doubt is None:
        return near_length(amount.total_mm, units), lengths
    return near_range(told.doubt.threads[k].total, units), f"{near_length(amount.total_mm, units)} as drawn, {lengths}"


def _amounts_note(told: Told, grid: Grid) -> tuple[Block, ...]:
    note = (
        "Amounts hold bites, starts, ends and waste, and reach from where one hand in ten ends to where nine do; what "
        "to take goes by the most. Lay your thread across its swatch before you trust the picture."
    )
    return space(1.0), paragraph(note, grid.width, SIDE), space(4.0)


def _tools(told: Told, grid: Grid) -> tuple[Block, ...]:
    pins = len(told.pins)
    tools = (
        f"{pins} pins with round heads: one white for N, one black for S, {pins - 2} in other colours. "
        "A needle with an eye that suits the thread. A paper strip, printed or folded. "
        f"A tape or ruler in {RULED[told.build.design.maker.units]}. Small sharp scissors. A thimble."
    )
    return (
        Block(SUBHEAD.line_mm + 1.0, paragraph("Tools", grid.width, SUBHEAD).marks, keep=True),
        paragraph(tools, grid.width, BODY),
        space(4.0),
    )


def _base(told: Told, grid: Grid) -> tuple[Block, ...]:
    """How the ball is wound, and in the corner beside it the check of the print."""
    steps, _ = step_columns(((str(s.number), s.text) for s in told.instructions.of("base")), grid, 9).dealt(grid.height)
    words = stack([paragraph("The base", grid.width, SUBHEAD), space(1.5), steps])
    low = max(words.height + 3.0, CHECK + 3.0)
    return (Block(low + 3.0, (*words.marks, *_check(grid, low))),)


def _check(grid: Grid, low: float) -> tuple[Mark, ...]:
    """100 mm each way, meeting in the lower right corner, the words above them."""
    said = (
        "Print at 100 %, with “fit to page” off. Both lines are 100 mm long. "
        "If one is not, no chart is at the size it says."
    )
    words = stack([paragraph("Check the print", 30.0, HEAD), paragraph(said, 30.0, SIDE)])
    right = grid.width - 2.0
    return (
        *across_line(right - CHECK, low, CHECK, "100 mm across"),
        *down_line(right, low - CHECK, CHECK, "100 mm down"),
        *words.at(grid.x(9) + 4.0, low - CHECK),
    )
