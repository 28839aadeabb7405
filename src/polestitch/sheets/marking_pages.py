"""The marking: its facts, the pin chart, the pin table with checks, and how the thread is laid.

In: ``Told`` and the grid.  Out: a section.
"""

from polestitch.document.said import Units, near_length, set_length
from polestitch.marking.advice import advice, advice_said
from polestitch.marking.evenness import evenness_said, faces_said
from polestitch.marking.pins import Pin
from polestitch.marking.summary import line_counts
from polestitch.sheets.blocks import BODY, Block, Columns, Style, paragraph, space
from polestitch.sheets.pages import SIDE, SUBHEAD, Column, Grid, Section, step_columns, table
from polestitch.sheets.pin_chart import pin_chart
from polestitch.sheets.sheet import BRASS
from polestitch.sheets.ticks import RULE_WORDS
from polestitch.sheets.told import Told

BOLD = Style("sans bold", 8.5, 11.5)


def marking_section(told: Told, grid: Grid) -> Section:
    """Everything about dividing the bare ball."""
    steps = step_columns(((str(s.number), s.text) for s in told.instructions.of("marking")), grid)
    blocks: tuple[Block | Columns, ...] = (
        paragraph(_facts(told), grid.span(9), BODY),
        space(3.0),
        pin_chart(told.build.marking, told.pins, grid.width),
        paragraph(_notes(told), grid.span(12), SIDE),
        space(4.0),
        *_subhead("Pins, in the order they go in", grid),
        *_pin_table(told, grid),
        space(6.0),
    )
    if steps.blocks:
        blocks += (*_subhead("Step by step", grid), steps)
    return Section("Marking", BRASS, blocks)


def _subhead(words: str, grid: Grid) -> tuple[Block, ...]:
    return (Block(SUBHEAD.line_mm + 1.5, paragraph(words, grid.width, SUBHEAD).marks, keep=True),)


def _facts(told: Told) -> str:
    marking, route = told.build.marking, told.route
    whole, half = line_counts(marking)
    lines = f"{whole} circle{'s' if whole != 1 else ''}" + (f" and {half} half circles" if half else "")
    units = told.build.design.maker.units
    pieces = len(route.pieces) + len(route.support)
    thread = f"{near_length(route.mm, units)} of thread in {pieces} piece{'s' if pieces != 1 else ''}"
    if marking.net is not None:
        even = evenness_said(marking, told.build.ball)
        return f"Division {marking.division}: {faces_said(marking.net)}. {even} The marking takes {thread}."
    return f"Division {marking.division}: {lines}, {len(marking.points)} marked points. The marking takes {thread}."


def _notes(told: Told) -> str:
    """What the chart's signs mean."""
    helpers = (
        "Open rings are helpers: they come out when the lines are laid. " if any(p.helper for p in told.pins) else ""
    )
    return f"Numbers on pins: the order they go in. {helpers}C is the whole strip. {_rule(told)} {_order(told)}".strip()


def _order(told: Told) -> str:
    """Which order of pins keeps this maker's marking truest; nothing for a net, whose pins leave little choice."""
    marking, placing = told.build.marking, told.build.design.maker.placing.mm
    return "" if marking.net is not None or placing is None else advice_said(advice(marking, placing), placing)


def _rule(told: Told) -> str:
    """What the makers' rule gives, once, beside the exact distance."""
    ruled = [d for pin in told.pins for d in pin.measured if d.rule_mm is not None]
    name = RULE_WORDS.get(told.build.marking.division)
    if not ruled or name is None or ruled[0].rule_mm is None:
        return ""
    off = ruled[0].rule_mm - ruled[0].mm
    same = "which is exact" if abs(off) < 0.005 else f"{abs(off):.2f} mm {'more' if off > 0 else 'less'}"
    return f"From pole to pin is {ruled[0].mm:.2f} mm. The makers’ rule {name} gives {ruled[0].rule_mm:.2f} mm, {same}."


def _pin_table(told: Told, grid: Grid) -> list[Block]:
    """Number, pin, distances from pins already in, how to find them on the strip, and what then comes out equal."""
    units = told.build.design.maker.units
    columns = (
        Column("", 0.0, 8.0, BOLD),
        Column("Pin", 8.0, 32.0),
        Column("From", 41.0, 15.0),
        Column("Set it at", 57.0, 36.0, BOLD),
        Column("Strip", 94.0, 15.0),
        Column("How to find it", 110.0, 37.0),
        Column("Then check", 149.0, grid.width - 149.0, SIDE),
    )
    rows = [row for number, pin in enumerate(told.pins, 1) for row in _pin_rows(number, pin, units)]
    return table(columns, rows, grid.width)


def _pin_rows(number: int, pin: Pin, units: Units) -> list[tuple[str, ...]]:
    """One row a distance; the checks are dealt out beside them."""
    first = (str(number), _name(pin))
    if not pin.measured:
        return [(*first, "", "where you like", "", "", "")]
    told = [(d.point, set_length(d.mm, units), _share(d.fraction), d.recipe) for d in pin.measured]
    checks = [f"{d.point}: {near_length(d.mm, units)}" for d in pin.check]
    share = -(-len(checks) // len(told))
    dealt = ["\n".join(checks[k * share : (k + 1) * share]) for k in range(len(told))]
    return [(*(first if k == 0 else ("", "")), *distance, dealt[k]) for k, distance in enumerate(told)]


def _share(fraction: float) -> str:
    """A share of the strip, to four places at most."""
    return f"{fraction:.4f}".rstrip("0") + " C"


def _name(pin: Pin) -> str:
    """The pin's name, with its line where the name does not already tell it."""
    told = pin.on.removeprefix("line ") == pin.point.removeprefix("obi ")
    return pin.point if told or not pin.on else f"{pin.point} on {pin.on}"
