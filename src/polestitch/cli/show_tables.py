"""Tables of a show, made from the same plain data that ``show --json`` prints.

In: the dict of ``show_json``.  Out: rich renderables.
"""

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from rich.console import RenderableType
from rich.text import Text

from polestitch.cli.tables import heading, table

PIECE_HEADS = ("number", "title", "pattern", "case", ">shelf", ">across", ">price", ">insured")
BALL_HEADS = (">shelf", "number", ">from left", ">from back", ">above floor", ">free at its right")


def show_tables(told: Mapping[str, Any]) -> Iterator[RenderableType]:
    """Pieces, cases, light and sums, then what to look at."""
    days = [f"{told['opens'] or '…'} to {told['closes'] or '…'}"] if told["opens"] or told["closes"] else []
    count = len(told["pieces"])
    yield heading(told["title"], f"{count} piece{'' if count == 1 else 's'}", *days)
    yield table("Pieces, in catalogue order", PIECE_HEADS, (_piece(piece) for piece in told["pieces"]))
    for case in told["cases"]:
        size = f"{case['name']}: inside {case['width_mm']:.0f} mm wide, {case['depth_mm']:.0f} mm deep"
        yield table(size, BALL_HEADS, (row for shelf in case["shelves"] for row in _balls(shelf)))
    for line in _sums(told):
        yield Text(line)
    yield Text("")
    for sentence in told["remarks"]:
        yield Text.assemble(("! ", "yellow"), sentence)


def _piece(piece: Mapping[str, Any]) -> Sequence[str]:
    across = "" if piece["across_mm"] is None else f"{piece['across_mm']:.0f} mm"
    words = (piece["number"], piece["title"], piece["pattern"], piece["case"], str(piece["shelf"] or ""), across)
    return (*words, piece["price"] or "", piece["insured"] or "")


def _balls(shelf: Mapping[str, Any]) -> Iterator[Sequence[str]]:
    free = {gap["left"]: gap["mm"] for gap in shelf["gaps"]}
    for ball in shelf["balls"]:
        floor = "" if ball["floor_mm"] is None else f"{ball['floor_mm']:.0f} mm"
        places = (f"{ball['left_mm']:.0f} mm", f"{ball['back_mm']:.0f} mm", floor, f"{free[ball['number']]:.0f} mm")
        yield (str(shelf["shelf"]), ball["number"], *places)


def _sums(told: Mapping[str, Any]) -> Iterator[str]:
    light = told["light"]
    if light is not None:
        yield (
            f"Light: {light['lux']:g} lux for {light['hours_a_day']:g} hours on {light['days']} days, "
            f"{light['lux_hours']:,.0f} lux hours in all."
        )
    if told["prices"]:
        after = f"; {' and '.join(told['after_commission'])} after the venue's share"
        yield f"Prices: {' and '.join(told['prices'])}{after if told['after_commission'] != told['prices'] else ''}."
    if told["insured"]:
        yield f"Insured: {' and '.join(told['insured'])}."
