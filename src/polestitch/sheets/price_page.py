"""The make-up of a price on one page: bars, tables, what it rests on.

In: the plain data of ``polestitch price --json``.  Out: a sheet, or its PDF.
"""

from collections.abc import Mapping
from decimal import Decimal
from typing import Any

from polestitch.sheets.blocks import Block, Columns, Style, paragraph, space
from polestitch.sheets.pages import CELL, GUTTER, SIDE, SUBHEAD, Column, Grid, Section, flowed, table
from polestitch.sheets.pdf import pdf
from polestitch.sheets.price_bar import hours_bar, lettered, make_up_bar
from polestitch.sheets.sheet import BRASS, HAIR, Pen, Sheet, paper_named, rectangle

Told = Mapping[str, Any]
STRONG = Style("sans bold", 8.5, 11.5)
LARGE = Style("serif bold", 20, 25)
SWATCH = 2.6
# How many lines of each item, base material and thread: the first that leave it one page; the rest is summed in one.
ROOM = ((6, 4, 8), (4, 2, 5), (2, 1, 3), (1, 1, 0))
MOST_LETTERS = 400
ENDS = ("low", "likely", "high")
MORE = {"items": "Other items", "base": "Base"}
Row = tuple[str, tuple[str, ...]]


def price_pdf(told: Told, paper: str = "a4") -> bytes:
    """The page as PDF."""
    return pdf(price_sheets(told, paper), f"The price of {_cut(told['name'], 80)}")


def price_sheets(told: Told, paper: str = "a4") -> tuple[Sheet, ...]:
    """One sheet; what is many of a kind is drawn together until it is."""
    grid = Grid(paper_named(paper))
    tried = (_sheets(told, grid, room) for room in ROOM)
    return next((sheets for sheets in tried if len(sheets) == 1), _sheets(told, grid, ROOM[-1]))


def _sheets(told: Told, grid: Grid, room: tuple[int, int, int]) -> tuple[Sheet, ...]:
    section = Section(f"The price of {_cut(told['name'], 30)}", BRASS, tuple(_blocks(told, grid, room)))
    return tuple(Sheet(grid.paper, marks, title) for title, marks in flowed([section], grid))


def _blocks(told: Told, grid: Grid, room: tuple[int, int, int]) -> list[Block | Columns]:
    price, hours = told["price"], told["hours"]
    items, base, threads = room
    return [
        _headline(price, grid),
        make_up_bar(price, grid.width),
        *_lines(price, grid, {"items": items, "base": base}),
        space(4.0),
        *_threads(price, grid, threads),
        _head("Hours", grid),
        hours_bar(hours, grid.width),
        paragraph(" ".join(hours["said"]), grid.width, CELL),
        space(4.0),
        _head("What it rests on", grid),
        _said(price, grid),
    ]


def _headline(price: Told, grid: Grid) -> Block:
    low, likely, high = (price["price"][end] for end in ENDS)
    words = f"{likely} {price['currency']}" if low == high else f"{low} to {high} {price['currency']}, likely {likely}"
    head = paragraph(words, grid.width, LARGE)
    return Block(head.height + 2.0, head.marks, keep=True)


def _lines(price: Told, grid: Grid, most: Mapping[str, int]) -> list[Block]:
    """One row a part, the price at the end."""
    names = zip(lettered(price["lines"]), price["lines"], strict=True)
    rows = [
        (line["kind"], (letter or "±", _cut(line["label"], 70), *(line[end] for end in ENDS))) for letter, line in names
    ]
    for kind, many in most.items():
        rows = _gathered(rows, kind, many)
    whole = [("=", f"Price in {price['currency']}", *(price["price"][end] for end in ENDS))]
    if price["with_tax"]:
        whole.append(("+", "With the tax you typed", *(price["with_tax"][end] for end in ENDS)))
    else:
        whole.append(("·", "Tax: not included, ask your adviser", "", "", ""))
    return table(_columns(grid), [*(row for _, row in rows), *whole], grid.width)


def _columns(grid: Grid) -> list[Column]:
    ends = ("if you are quick", "likely", "if you are slow")
    figures = [
        Column(title, grid.x(6 + 2 * k), grid.span(2), CELL if k != 1 else STRONG, True) for k, title in enumerate(ends)
    ]
    return [Column("", 0.0, 6.0, STRONG), Column("Made of", 7.0, grid.x(6) - GUTTER - 7.0, CELL), *figures]


def _gathered(rows: list[Row], kind: str, most: int) -> list[Row]:
    """The same rows, with what is too much of one kind summed in one."""
    mine = [row for each, row in rows if each == kind]
    if len(mine) <= most:
        return rows
    extra = mine[most - 1 :]
    sums = (str(sum((Decimal(row[2 + end]) for row in extra), Decimal(0))) for end in range(3))
    summed = (f"{extra[0][0]} …", f"{MORE[kind]}: {len(extra)} together", *sums)
    kept = [(each, summed if row is extra[0] else row) for each, row in rows]
    return [(each, row) for each, row in kept if not any(row is other for other in extra[1:])]


def _threads(price: Told, grid: Grid, most: int) -> list[Block]:
    threads = price["threads"]
    if not threads:
        return []
    if not most:
        return [paragraph(f"Its {len(threads)} threads are in the sum as far as they are priced.", grid.width, SIDE)]
    shown = threads[:most]
    rows = [
        (
            _cut(one["name"], 40),
            f"{one['metres']:.1f} m",
            one["price"] or "no price yet",
            _money(one, "used"),
            "" if one["skeins"] is None else str(one["skeins"]),
            _money(one, "bought"),
        )
        for one in shown
    ]
    titles = ("length", "a skein", "by the metre", "skeins", "whole skeins")
    figures = [
        Column(title, grid.x(3) + k * _step(grid), _step(grid) - GUTTER, CELL, True) for k, title in enumerate(titles)
    ]
    indent = SWATCH + 2.0
    head, *tabled = table([Column("Thread", indent, grid.x(3) - indent, STRONG), *figures], rows, grid.width)
    blocks = [_with_swatch(block, one["colour"]) for block, one in zip(tabled, shown, strict=True)]
    more = len(threads) - len(shown)
    note = [paragraph(f"And {more} more thread{'' if more == 1 else 's'}.", grid.width, SIDE)] if more > 0 else []
    return [head, *blocks, *note, space(4.0)]


def _step(grid: Grid) -> float:
    return (grid.width + GUTTER - grid.x(3)) / 5


def _money(one: Told, which: str) -> str:
    return "" if one[which] is None else f"{one[which]} {one['currency']}"


def _with_swatch(block: Block, colour: str) -> Block:
    swatch = rectangle((0.0, 1.3, SWATCH, 1.3 + SWATCH), Pen(HAIR, 0.2), colour)
    return Block(block.height, (swatch, *block.marks), block.keep, block.head)


def _said(price: Told, grid: Grid) -> Columns:
    """Sentences in two columns."""
    at = [price["at"]["said"]] if price["at"] else []
    width = (grid.width - 2 * GUTTER) / 2
    said = (_cut(words, MOST_LETTERS) for words in (*price["not_counted"][:3], *price["said"], *at))
    blocks = (paragraph(words, width, CELL) for words in said)
    return Columns(tuple(Block(block.height + 1.0, block.marks) for block in blocks), width + 2 * GUTTER)


def _head(words: str, grid: Grid) -> Block:
    head = paragraph(words, grid.width, SUBHEAD)
    return Block(head.height + 1.0, head.marks, keep=True)


def _cut(words: str, most: int) -> str:
    return words if len(words) <= most else f"{words[: most - 1].rstrip()}…"
