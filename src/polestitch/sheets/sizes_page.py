"""The page "If your ball comes out different": rows, room and thread on balls a little smaller and larger.

In: ``Told``, whose ``sizes`` is the plain data of ``polestitch sizes --json``, and the grid.  Out: a section.
"""

from collections.abc import Iterator, Mapping, Sequence
from math import ceil
from typing import Any

from polestitch.document.said import Units, listed, near_length
from polestitch.sheets.blocks import BODY, Block, Style, paragraph, space
from polestitch.sheets.pages import CELL, GUTTER, SIDE, SUBHEAD, Column, Grid, Section, table
from polestitch.sheets.sheet import HAIR, INDIGO, Pen, rectangle
from polestitch.sheets.told import Told

Size = Mapping[str, Any]
STRONG = Style("sans bold", 8.5, 11.5)
SAME_MM = 0.06  # one and the same ball
THREAD_STEPS: dict[Units, float] = {"mm": 100.0, "in": 101.6}  # mm: more thread is told in hand's breadths
MOST_NAMED, MOST_FINDINGS = 3, 2  # more would bury the sentence
SWATCH = 2.6
NOTHING = "–"


def sizes_section(told: Told, grid: Grid) -> Iterator[Section]:
    """The page, or nothing where the sizes were not worked out."""
    if told.sizes is None:
        return
    sizes: Sequence[Size] = told.sizes["sizes"]
    around = told.build.ball.around_mm
    base = next((size for size in sizes if abs(size["around_mm"] - around) < SAME_MM), None)
    base = base or next(size for size in sizes if size["size"] == "as planned")
    blocks = (*_intro(told, grid), *_layers(told, sizes, grid), *_threads(told, sizes, grid))
    yield Section("If your ball comes out different", INDIGO, (*blocks, *_meaning(told, sizes, base, grid)))


def _intro(told: Told, grid: Grid) -> tuple[Block, ...]:
    around = near_length(told.build.ball.around_mm, told.build.design.maker.units)
    words = (
        f"Measure your ball once it is wound. This booklet is for {around} round. "
        "On a ball of another size, find the nearest column. "
        "Take the strip for your pins from your own ball: the lengths on the next pages are for this one."
    )
    return paragraph(words, grid.span(10), BODY), space(4.0)


def _columns(what: str, sizes: Sequence[Size], grid: Grid) -> list[Column]:
    """What it is, then one column a size."""
    left = grid.x(3)
    step = (grid.width + GUTTER - left) / len(sizes)
    across = [Column(size["size"], left + k * step, step - GUTTER, CELL, True) for k, size in enumerate(sizes)]
    return [Column(what, 0.0, left - GUTTER, STRONG), *across]


def _layers(told: Told, sizes: Sequence[Size], grid: Grid) -> list[Block]:
    units = told.build.design.maker.units
    rows = [("Round", *(near_length(size["around_mm"], units) for size in sizes))]
    for k, layer in enumerate(told.build.design.layers):
        own = [size["layers"][k] if size["layers"] else None for size in sizes]
        rows.append((layer.name, *(NOTHING if one is None else _rows(one["rows"]) for one in own)))
        further = ([_room(one, units) for one in own], [_look(one) for one in own])
        rows += [("", *cells) for cells in further if any(cells)]
    note = (
        "Left: between a layer's threads and its neighbours', or the edge of its face. Over: so far they overlap. "
        "For the look: the rows with which the layer looks as planned."
    )
    tabled = table(_columns("Layer", sizes, grid), rows, grid.width)
    return [*_head("Rows and room", grid), *tabled, space(1.0), paragraph(note, grid.width, SIDE), space(5.0)]


def _rows(count: int) -> str:
    return f"{count} row{'' if count == 1 else 's'}"


def _room(layer: Size | None, units: Units) -> str:
    if layer is None or layer["gap_mm"] is None:
        return ""
    return f"{near_length(abs(layer['gap_mm']), units)} {'left' if layer['gap_mm'] >= 0 else 'over'}"


def _look(layer: Size | None) -> str:
    same = layer is None or layer["rows_for_look"] == layer["rows"]
    return "" if layer is None or same else f"{layer['rows_for_look']} for the look"


def _threads(told: Told, sizes: Sequence[Size], grid: Grid) -> list[Block]:
    """Threads with a swatch each."""
    threads, units = told.build.design.threads, told.build.design.maker.units
    rows = [
        (
            thread.name,
            *(near_length(size["threads"][k]["total_mm"], units) if size["threads"] else NOTHING for size in sizes),
        )
        for k, thread in enumerate(threads)
    ]
    head, *tabled = table(_indented(_columns("Thread", sizes, grid)), rows, grid.width)
    swatched = [_with_swatch(block, str(thread.colour)) for block, thread in zip(tabled, threads, strict=True)]
    note = "For the design as written on that ball, with bites, starts, ends and waste."
    return [*_head("Thread", grid), head, *swatched, space(1.0), paragraph(note, grid.width, SIDE), space(5.0)]


def _indented(columns: Sequence[Column]) -> list[Column]:
    """Room for the swatches before the first column."""
    first, *others = columns
    shift = SWATCH + 2.0
    return [Column(first.title, shift, first.width - shift, first.style), *others]


def _with_swatch(block: Block, colour: str) -> Block:
    swatch = rectangle((0.0, 1.3, SWATCH, 1.3 + SWATCH), Pen(HAIR, 0.2), colour)
    return Block(block.height, (swatch, *block.marks), block.keep, block.head)


def _meaning(told: Told, sizes: Sequence[Size], base: Size, grid: Grid) -> list[Block]:
    """One sentence a size, then what the checks newly find there."""
    units = told.build.design.maker.units
    rows = []
    for size in sizes:
        rows.append((size["size"], meaning(size, base, units)))
        rows += [("", found) for found in _findings(size)]
    columns = (Column("Ball", 0.0, grid.x(3) - GUTTER, STRONG), Column("What to do", grid.x(3), grid.span(9), CELL))
    return [*_head("What it means", grid), *table(columns, rows, grid.width)]


def _findings(size: Size) -> list[str]:
    found, more = size["new_findings"][:MOST_FINDINGS], len(size["new_findings"]) - MOST_FINDINGS
    return [*found, f"And {more} more: check the design on this ball before you begin."] if more > 0 else list(found)


def meaning(size: Size, base: Size, units: Units = "mm") -> str:
    """What to do on a ball of that size, in one sentence; ``base`` is the size the booklet is for."""
    if size["impossible"]:
        return f"The design cannot be made on this ball as it is written: {size['impossible']}"
    if size is base:
        return "This is the ball of this booklet."
    if base["impossible"]:
        return "Print the booklet anew for this ball."
    pairs = list(zip(size["layers"], base["layers"], strict=True))
    rows = [clause for layer, planned in pairs if (clause := _other_rows(layer, planned))]
    over = [layer["name"] for layer, planned in pairs if (layer["gap_mm"] or 0) < 0 <= (planned["gap_mm"] or 0)]
    doing = f"Stitch {_few(rows)}" if rows else "Stitch as in this booklet"
    crowded = f"; {_few(over)} now overlap{'s' if len(over) == 1 else ''}" if over else ""
    return f"{doing}{crowded}; {_more_thread(size, base, units)}."


def _other_rows(layer: Size, planned: Size) -> str:
    """Rows other than the booklet's, whether the layer ends there by itself or only looks right so."""
    look = layer["rows_for_look"]
    if look == planned["rows"]:
        return ""
    return f"{_rows(look)} of {layer['name']} instead of {planned['rows']}"


def _few(parts: Sequence[str]) -> str:
    rest = len(parts) - MOST_NAMED
    return listed(parts) if rest <= 0 else f"{', '.join(parts[:MOST_NAMED])} and {rest} more as in the table"


def _more_thread(size: Size, base: Size, units: Units) -> str:
    """Whether the booklet's amounts last; added rows want more than the table tells, since that is as written."""
    step = THREAD_STEPS[units]
    need = {
        one["id"]: one["total_mm"] - had["total_mm"] for one, had in zip(size["threads"], base["threads"], strict=True)
    }
    more = {name: mm for name, mm in need.items() if mm > step / 2}
    added = any(layer["rows_for_look"] > layer["rows"] for layer in size["layers"])
    further = ", and some for the added rows" if added else ""
    if not more:
        return f"the thread of this booklet is enough{further}"
    most = near_length(step * ceil(max(more.values()) / step), units).replace(".00 ", " ")
    names = listed(list(more)) if len(more) <= MOST_NAMED else "each thread"
    return f"have up to {most} more of {names}{further}"


def _head(words: str, grid: Grid) -> list[Block]:
    head = paragraph(words, grid.width, SUBHEAD)
    return [Block(head.height + 1.5, head.marks, keep=True)]
