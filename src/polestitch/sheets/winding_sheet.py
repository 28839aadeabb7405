"""The winding sheet: the ball cut through, where to stop, blanks for what she measures, and a paper tape.

In: a winding plan and a paper.  Out: sheets, or their PDF.
"""

from polestitch.document.said import Units, near_length
from polestitch.sheets.blocks import BODY, Block, paragraph, space
from polestitch.sheets.cut_through import cut_through
from polestitch.sheets.pages import SIDE, SUBHEAD, Column, Grid, Section, flowed, numbered_sheets, table
from polestitch.sheets.pdf import pdf
from polestitch.sheets.sheet import HAIR, INK, MOSS, QUIET, Line, Mark, Paper, Pen, Sheet, Text, paper_named
from polestitch.sheets.strip import Frame, cut_for, laid_out
from polestitch.sheets.strip_words import CHECK, LEAD, TITLE, join, numbered_list
from polestitch.sheets.ticks import Tick
from polestitch.winding import Plan, Range
from polestitch.winding.care import order_said
from polestitch.winding.told import MEASURE, winding_json

ROW = 8.0  # mm: room to write in
PRINT = (*CHECK[:2], "If one is more than a millimetre out, print again with scaling off.", CHECK[-1])
USE = (
    "Cut one tape out along its outline. The second copy is a spare.",
    "Hold the ring at 0 on the ball and lay the tape round it at its widest, flat and without pulling.",
    "Wind on until the number of the wrap meets the ring. Then roll the ball and measure in two more directions.",
    "Where one direction is short, wind through it. Stop when the three agree.",
)
CARE = (
    "Keep scissors, needles and pins away from small children and animals.",
    "Paper stretches when it is damp. Print a new tape for a new ball.",
)


def winding_sheet(plan: Plan, paper: str = "a4") -> bytes:
    """The sheet as PDF."""
    return pdf(winding_sheets(plan, paper), "Winding the base")


def winding_sheets(plan: Plan, paper: str = "a4") -> tuple[Sheet, ...]:
    """The plan on a page, then the tape; ``DesignError`` for a paper that is not known."""
    size = paper_named(paper)
    grid = Grid(size)
    bodies = flowed([winding_section(plan, grid)], grid)
    return (*numbered_sheets(bodies, size, "Winding the base"), *tape_sheets(plan, size))


def winding_section(plan: Plan, grid: Grid) -> Section:
    """The plan as a part of a booklet."""
    told = winding_json(plan)
    sounds = [told["noise"]["said"]] if told["noise"] else []
    order = order_said(plan.core, [stop.material for stop in plan.stops])
    words = [told["core"]["said"], *sounds, told["bite"]["said"], *order, MEASURE[1]]
    blocks: tuple[Block, ...] = (
        paragraph(_facts(plan), grid.span(11), BODY),
        space(3.0),
        cut_through(plan, grid.width),
        space(3.0),
        *stops_table(plan, grid),
        space(3.0),
        paragraph(" ".join(words), grid.width, SIDE),
        space(5.0),
        Block(SUBHEAD.line_mm + 1.0, paragraph("Your own figures", grid.width, SUBHEAD).marks, keep=True),
        _blanks(plan, grid),
    )
    return Section("Winding the base", MOSS, blocks)


def _facts(plan: Plan) -> str:
    return (
        f"A ball {plan.wanted_mm:.0f} mm round on {plan.core.title}. The base weighs {_span(plan.grams, 'g')}. "
        "Amounts are ranges: how densely you wind decides."
    )


def stops_table(plan: Plan, grid: Grid, units: Units = "mm") -> list[Block]:
    """Core and wraps in order: where to stop, how much it takes."""
    columns = (
        Column("", 0.0, 6.0),
        Column("Wind", grid.x(0) + 7.0, grid.span(3) - 7.0),
        Column("Stop at", grid.x(3), grid.span(2), right=True),
        Column("Weight", grid.x(5), grid.span(1) + 6.0, right=True),
        Column("Length", grid.x(6) + 4.0, grid.span(2) - 4.0, right=True),
        Column("Mind", grid.x(8) + 2.0, grid.span(4) - 2.0),
    )
    loose = "" if plan.core_ml is None else f"About {10 * round(plan.core_ml / 10):.0f} ml loose."
    core = ("1", plan.core.title, f"{_stop(plan.core_mm, units)} round", _span(plan.core_grams, "g"), "", loose)
    rows = [core]
    for n, stop in enumerate(plan.stops, 2):
        metres = "" if stop.metres is None else _span(stop.metres, "m")
        title, hint = stop.material.title, stop.material.hint
        rows.append((str(n), title, f"{_stop(stop.around_mm, units)} round", _span(stop.grams, "g"), metres, hint))
    return table(columns, rows, grid.width)


def _stop(mm: float, units: Units) -> str:
    return f"{mm:.0f} mm" if units == "mm" else near_length(mm, units)


def _span(figure: Range, unit: str) -> str:
    low, high = f"{figure.low:.0f}", f"{figure.high:.0f}"
    return f"{low} {unit}" if low == high else f"{low} to {high} {unit}"


def _blanks(plan: Plan, grid: Grid) -> Block:
    """A row to write in for each stop: three ways round, what the ball weighs, what she used."""
    heads = ("Stop", "First way", "Across it", "Third way", "Ball weighs", "Metres used")
    places = (0.0, grid.x(3), grid.x(5), grid.x(7), grid.x(9), grid.x(11) - 6.0)
    marks: list[Mark] = [Text(x, 3.0, head, "sans", 7.5, "start", QUIET) for x, head in zip(places, heads, strict=True)]
    marks.append(Line(0.0, 4.6, grid.width, 4.6, Pen(INK, 0.2)))
    names = [plan.core.title, *(stop.material.title for stop in plan.stops)]
    units = ("", "mm", "mm", "mm", "g", "m")
    ends = (*places[1:], grid.width + 2.0)
    for n, name in enumerate(names):
        y = 4.6 + (n + 1) * ROW
        marks.append(Text(0.0, y - 2.2, f"{n + 1}  {name}", "sans", 8.5))
        marks.append(Line(0.0, y, grid.width, y, Pen(HAIR, 0.15)))
        for end, unit in zip(ends[1:], units[1:], strict=True):
            marks.append(Text(end - 3.0, y - 2.2, unit, "sans", 7.5, "end", QUIET))
    y = 4.6 + len(names) * ROW + 5.0
    note = (
        "Weigh the ball at each stop: the difference is the wrap. Keep it in your log, with the size before and after."
    )
    marks.append(Text(0.0, y, note, "sans", 8, "start", QUIET))
    return Block(y + 2.0, tuple(marks))


def tape_sheets(plan: Plan, paper: Paper) -> tuple[Sheet, ...]:
    """The tape at true size with a mark at every stop, and how to use it."""
    frame, marks = Frame(paper), tape_ticks(plan)
    cut = cut_for(frame, marks, plan.wanted_mm)
    width = frame.words_width(min(len(cut), 2))
    told = [
        paragraph("Winding tape", width, TITLE),
        paragraph(f"For a ball {plan.wanted_mm:.0f} mm round. The tape is at true size.", width, LEAD),
        *numbered_list("Check the print", PRINT, width),
        *(numbered_list("Join the pieces", join(len(cut)), width) if len(cut) > 1 else []),
        *numbered_list("Use the tape", USE, width),
        *numbered_list("Take care", (*winding_json(plan)["cautions"], *CARE), width),
    ]
    return laid_out(frame, marks, cut, told, f"Winding tape, {plan.wanted_mm:.0f} mm round")


def tape_ticks(plan: Plan) -> tuple[Tick, ...]:
    """A mark at 0, at the core's size and at every stop; the last is the finished ball."""
    wraps = [(stop.around_mm, stop.material.title) for stop in plan.stops]
    stops = [(plan.core_mm, "core"), *wraps]
    found = [Tick(0.0, "pole", ("0",), "0")]
    for n, (mm, name) in enumerate(stops, 1):
        found.append(Tick(mm, "pole" if n == len(stops) else "quarter", (f"{n}  {name}",), str(n)))
    return tuple(found)
