"""Bars of the price page: what the price is made of, and how sure the hours are.

In: plain data of ``polestitch price --json`` and a width in mm.  Out: blocks.

Parts are tints of one ink from dark to pale, parted by white and lettered, so that they read in black and white.
"""

from collections.abc import Mapping, Sequence
from decimal import Decimal
from typing import Any

from polestitch.sheets.blocks import Block
from polestitch.sheets.inks import row_ink
from polestitch.sheets.lettering import width_mm
from polestitch.sheets.sheet import BRASS, HAIR, INK, QUIET, WHITE, Line, Mark, Pen, Text, rectangle

BAR = 11.0  # mm high
LETTERS = "ABCDEFGHIJKLMNOPQRSTUVWXYZ"
TIGHT = 1.2  # mm: a letter has no room over less


def parts_of(price: Mapping[str, Any]) -> list[tuple[str, Decimal]]:
    """(letter, likely amount) of every line but what rounding takes away; in the table's order."""
    found = zip(lettered(price["lines"]), price["lines"], strict=True)
    amounts = [(letter, Decimal(line["likely"])) for letter, line in found]
    return [(letter, amount) for letter, amount in amounts if letter and amount > 0]


def lettered(lines: Sequence[Mapping[str, Any]]) -> list[str]:
    """A letter for each line of the bar, none for rounding."""
    letters = iter(LETTERS + LETTERS.lower())
    return ["" if line["kind"] == "rounding" else next(letters, "") for line in lines]


def make_up_bar(price: Mapping[str, Any], width: float) -> Block:
    """The likely price from left to right."""
    parts = parts_of(price)
    whole = sum((amount for _, amount in parts), Decimal(0))
    if not whole:
        return Block(0.0)
    marks: list[Mark] = []
    x = 0.0
    for k, (letter, amount) in enumerate(parts):
        wide = width * float(amount / whole)
        ink = row_ink(BRASS, k / max(1, len(parts) - 1))
        marks.append(rectangle((x, 5.0, x + wide, 5.0 + BAR), Pen(WHITE, 0.35), ink))
        if wide >= max(TIGHT, width_mm(letter, "sans bold", 8)):
            marks.append(Text(x + wide / 2, 3.6, letter, "sans bold", 8, "middle", INK))
        x += wide
    return Block(5.0 + BAR + 2.0, tuple(marks))


def hours_bar(hours: Mapping[str, Any], width: float) -> Block:
    """From nothing to the slowest hand: her range, its likely value, and the range without her sittings."""
    without = hours["without_sittings"]
    most = max(hours["high"], without["high"]) * 1.08
    if not most:
        return Block(0.0)
    at = width / most
    marks: list[Mark] = [Line(0.0, 9.0, width, 9.0, Pen(HAIR, 0.2)), *_ticks(most, at)]
    if hours["sittings"]:
        marks.append(Line(without["low"] * at, 6.6, without["high"] * at, 6.6, Pen(QUIET, 0.35, (1.0, 1.0))))
        marks.append(Text(without["high"] * at, 5.4, "without your sittings", "sans", 7, "end", QUIET))
    marks.append(Line(hours["low"] * at, 9.0, hours["high"] * at, 9.0, Pen(BRASS, 1.6)))
    x = hours["likely"] * at
    marks.append(Line(x, 7.2, x, 10.8, Pen(INK, 0.5)))
    return Block(17.0, tuple(marks))


def _ticks(most: float, at: float) -> list[Mark]:
    step = next(each for each in (1, 2, 5, 10, 20, 50, 100, 200, 500, 1000, 5000) if most / each <= 14 or each == 5000)
    marks: list[Mark] = []
    for k in range(int(most // step) + 1):
        x = k * step * at
        marks += [
            Line(x, 9.0, x, 10.4, Pen(QUIET, 0.2)),
            Text(x, 13.6, f"{k * step} h", "sans", 7, "middle" if k else "start", QUIET),
        ]
    return marks
