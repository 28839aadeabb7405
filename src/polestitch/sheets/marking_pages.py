"""The marking: its facts, the pin chart, the pin table with checks, and how the thread is laid.

In: ``Told`` and the grid.  Out: a section.
"""

from polestitch.document.said import Units, near_length, set_length
from polestitch.marking.pins import Distance, Pin
from polestitch.marking.summary import line_counts
from polestitch.sheets.blocks import BODY, Block, Style, numbered, paragraph, space
from polestitch.sheets.pages import SIDE, SUBHEAD, Column, Grid, Section, table
from polestitch.sheets.pin_chart import pin_chart
from polestitch.sheets.sheet import BRASS
from polestitch.sheets.told import Told

BOLD = Style("sans bold", 8.5, 11.5)


def marking_section(told: Told, grid: Grid) -> Section:
    """Everything about dividing the bare ball."""
    steps = [_step(str(step.number), step.text, grid) for step in told.steps_of("marking")]
    blocks = (
        paragraph(_facts(told), grid.span(9), BODY),
        space(3.0),
        pin_chart(told.build.marking, told.pins, grid.width),
        space(2.0),
        *_subhead("Pins, in the order they go in", grid),
        *_pin_table(told, grid),
        space(6.0),
        *(_subhead("Step by step", grid) if steps else ()),
        *steps,
    )
    return Section("Marking", BRASS, blocks)


def _subhead(words: str, grid: Grid) -> tuple[Block, ...]:
    return (Block(SUBHEAD.line_mm + 1.5, paragraph(words, grid.width, SUBHEAD).marks, keep=True),)


def _step(number: str, text: str, grid: Grid) -> Block:
    block = numbered(number, text, grid.span(9))
    return Block(block.height + 1.6, block.marks)


def _facts(told: Told) -> str:
    marking, route = told.build.marking, told.route
    whole, half = line_counts(marking)
    lines = f"{whole} circle{'s' if whole != 1 else ''}" + (f" and {half} half circles" if half else "")
    units = told.build.design.maker.units
    pieces = len(route.pieces) + len(route.support)
    thread = f"{near_length(route.mm, units)} of thread in {pieces} piece{'s' if pieces != 1 else ''}"
    return f"Division {marking.division}: {lines}, {len(marking.points)} marked points. The marking takes {thread}."


def _pin_table(told: Told, grid: Grid) -> list[Block]:
    """Number, pin, distances from pins already in, how to find them on the strip, and what then comes out equal."""
    units = told.build.design.maker.units
    columns = (
        Column("", 0.0, grid.span(1), BOLD),
        Column("Pin", grid.x(1) - 6.0, grid.span(2)),
        Column("Measured from", grid.x(3) - 8.0, grid.span(4)),
        Column("On the strip", grid.x(7) - 9.0, grid.span(3) + 2.0),
        Column("Then check", grid.x(10) - 6.0, grid.span(2) + 6.0, SIDE),
    )
    rows = [
        (str(n), _name(pin), _measured(pin, units), "\n".join(d.recipe for d in pin.measured), _checks(pin, units))
        for n, pin in enumerate(told.pins, 1)
    ]
    return table(columns, rows, grid.width)


def _name(pin: Pin) -> str:
    where = f"\non {pin.on}" if pin.on else ""
    return pin.point + where + ("\nhelper" if pin.helper else "")


def _measured(pin: Pin, units: Units) -> str:
    return "\n".join(_from(distance, units) for distance in pin.measured) or "anywhere"


def _from(distance: Distance, units: Units) -> str:
    said = f"{distance.point}: {set_length(distance.mm, units)}, {distance.fraction:.4g} C"
    return said if distance.rule_mm is None else f"{said}; by the rule {distance.rule_mm:.1f} mm"


def _checks(pin: Pin, units: Units) -> str:
    return "\n".join(f"{d.point} {near_length(d.mm, units)}" for d in pin.check)
