"""One layer: what it is, its rows with their colours, its charts, and its steps.

In: ``Told``, a layer's index and the grid.  Out: a section.
"""

from collections.abc import Sequence
from dataclasses import replace
from itertools import groupby, zip_longest

from polestitch.document.design import Layer
from polestitch.document.said import Units, listed, set_length
from polestitch.doubt import rows_said
from polestitch.sheets.blocks import BODY, Block, Columns, Style, paragraph, space
from polestitch.sheets.inks import row_ink
from polestitch.sheets.pages import GUTTER, SIDE, SUBHEAD, Column, Grid, Section, step_columns, table
from polestitch.sheets.sheet import HAIR, INDIGO, INK, Line, Mark, Pen, Text, rectangle
from polestitch.sheets.told import Told
from polestitch.sheets.views import motif_chart, unlike_motifs
from polestitch.steps.table import RowLine
from polestitch.stitching.motifs import Motif

BOLD = Style("sans bold", 8.5, 11.5)
# What Japanese makers call the techniques (said once, beside the heading).
TERMS = {
    "uwagake": "上掛け千鳥かがり",
    "spindle": "紡錘かがり",
    "band": "巻きかがり",
    "zigzag": "千鳥かがり",
    "star": "星かがり",
    "shitagake": "下掛け千鳥かがり",
    "both_poles": "上下同時かがり",
    "sakasa": "逆さ上掛け",
    "rose": "升重ね",
    "tri_wing": "三つ羽根亀甲",
    "swirl": "渦巻きかがり",
    "hemp_leaf": "麻の葉かがり",
    "thimble": "ゆびぬき",
    "pine_needle": "松葉かがり",
    "net": "網目",
    "tie": "束ねかがり",
}
POLYGONS = {3: "三角かがり", 4: "升かがり", 5: "五角かがり", 6: "六角かがり"}
MOST_CHARTS, MOST_KINDS = 4, 3
HALVED, TOGETHER = 6, 16  # so many rows go side by side, so many lines stay with their chart


def layer_section(told: Told, layer: int, grid: Grid) -> Section:
    """The pages of one layer."""
    entry, kinds = told.build.design.layers[layer], unlike_motifs(told.build, layer)
    blocks: list[Block | Columns] = [
        paragraph(_about(told, layer, entry), grid.span(9), BODY, keep=True),
        Block(3.0, keep=True),
    ]
    for motif in kinds[:MOST_CHARTS]:
        blocks += [
            _rows(told, motif, grid),
            Block(3.0, keep=True),
            replace(motif_chart(told.build, motif), keep=True),
            Block(4.0, keep=True),
        ]
        blocks += _alike(told, motif, grid) + _table(told, motif, grid)
    if entry.notes:
        blocks += [paragraph(entry.notes, grid.span(9), Style("serif italic", 10.5, 14.5)), space(3.0)]
    steps = told.instructions.of("layer", layer)
    if steps:
        blocks.append(Block(SUBHEAD.line_mm + 1.5, paragraph("Step by step", grid.width, SUBHEAD).marks, keep=True))
        blocks.append(step_columns(((str(step.number), step.text) for step in steps), grid))
    return Section(f"{layer + 1}  {entry.name}", INDIGO, tuple(blocks), _term(entry.technique, kinds))


def _term(technique: str, kinds: tuple[Motif, ...]) -> str:
    """The technique's name in Japanese; a polygon's depends on its corners."""
    if technique == "polygon" and kinds:
        return POLYGONS.get(len(kinds[0].rows[0].places), "")
    return TERMS.get(technique, "")


def _alike(told: Told, motif: Motif, grid: Grid) -> list[Block]:
    """The other places this chart serves."""
    likes = [m.place for m in told.build.motifs if m.layer == motif.layer and m is not motif]
    if not likes or len(unlike_motifs(told.build, motif.layer)) > 1:
        return []
    return [paragraph(f"The same at {_named(likes)}.", grid.span(9), SIDE, keep=True), Block(3.0, keep=True)]


def _about(told: Told, layer: int, entry: Layer) -> str:
    """Technique and places; the order of work is told by the steps."""
    places = [motif.place for motif in told.build.motifs if motif.layer == layer]
    return f"{entry.technique.replace('_', ' ').capitalize()}, worked at {_named(places)}."


def _named(places: Sequence[str]) -> str:
    """A few places by name; of many the first and the last."""
    return listed(places) if len(places) <= 6 else f"{len(places)} places, first {places[0]}, last {places[-1]}"


def _table(told: Told, motif: Motif, grid: Grid) -> list[Block]:
    """Every row with its colour and where its corners stand, kinds of corner side by side."""
    found = [t for t in told.instructions.tables_of(motif.layer) if motif.place in t.places]
    if not found or not found[0].rows:
        return []
    rows = found[0].rows
    kinds = list(dict.fromkeys((d.kind, d.pin) for line in rows for d in line.distances))[:MOST_KINDS]
    units = told.build.design.maker.units
    cells = [(str(line.number), line.thread, *(_said(line, kind, units) for kind in kinds)) for line in rows]
    titles = [f"{kind}, from {pin}" for kind, pin in kinds]
    if all(len(line.distances) == 1 for line in rows) and HALVED <= len(rows) <= 2 * TOGETHER:
        other_side = (k for k, line in enumerate(rows) if line.distances[0].kind != rows[0].distances[0].kind)
        blocks = _halved(titles, cells, next(other_side, -(-len(rows) // 2)), grid)
    else:
        blocks = table(_columns(titles, 0.0, grid.width, grid), cells, grid.width)
    if len(blocks) <= TOGETHER + 1:  # with its chart; the last row sets the rest free
        blocks = [*(replace(block, keep=True) for block in blocks[:-1]), blocks[-1]]
    return [*blocks, space(6.0)]


def _halved(titles: Sequence[str], cells: Sequence[tuple[str, ...]], half: int, grid: Grid) -> list[Block]:
    """Rows with one distance each in two half-wide tables; the right one begins at row ``half``."""
    single = [(row, thread, "".join(said)) for row, thread, *said in cells]
    pairs = zip_longest(single[:half], single[half:], fillvalue=("", "", ""))
    columns = [
        *_columns(titles[:1], 0.0, grid.span(6), grid),
        *_columns(titles[-1:], grid.x(6), grid.span(6), grid),
    ]
    return table(columns, [(*left, *right) for left, right in pairs], grid.width)


def _columns(titles: Sequence[str], left: float, width: float, grid: Grid) -> list[Column]:
    """Row, thread, and the distances in the room that is left of ``width`` mm."""
    first = grid.span(3)
    step = (width - first) / max(len(titles), 1)
    return [
        Column("Row", left, 8.0, BOLD),
        Column("Thread", left + 10.0, first - 12.0),
        *(Column(title, left + first + k * step, step - GUTTER / 2) for k, title in enumerate(titles)),
    ]


def _said(line: RowLine, kind: tuple[str, str], units: Units) -> str:
    """Distances of one kind in one row: what a hand can set, the exact value, the share of the strip."""
    here = [d for d in line.distances if (d.kind, d.pin) == kind]
    return "\n".join(f"{set_length(d.mm, units)}, {d.fraction:.3f} C" for d in here)


def _counted(told: Told, motif: Motif, count: int) -> str:
    """The rows drawn, and how many her hand may come to where the document counts none."""
    if told.doubt is None or motif.reaches is None:
        return f"{count} row{'s' if count != 1 else ''}"
    return rows_said(count, told.doubt.rows[motif.layer], told.build.design.maker.measures is not None)


def _rows(told: Told, motif: Motif, grid: Grid) -> Block:
    """The row list: a swatch, how many rows and of what, with the ink the chart draws them in."""
    count = max(row.number for row in motif.rows)
    marks: list[Mark] = []
    x = y = 0.0
    pairs = list(dict.fromkeys((row.number, thread) for row, thread in zip(motif.rows, motif.threads)))
    for thread, run in groupby(pairs, key=lambda pair: pair[1]):
        numbers = [number for number, _ in run]
        made = told.build.design.threads[thread]
        words = (f"row {numbers[0]}" if len(numbers) == 1 else f"rows {numbers[0]}–{numbers[-1]}") + f"  {made.name}"
        wide = 16.0 + len(words) * 1.75
        if x + wide > grid.width:
            x, y = 0.0, y + 7.0
        ink = row_ink(str(made.colour), (numbers[0] - 1) / max(count - 1, 1))
        marks += [
            rectangle((x, y, x + 11.0, y + 4.6), Pen(HAIR, 0.15), str(made.colour)),
            Line(x, y + 5.6, x + 11.0, y + 5.6, Pen(ink, 0.5)),
            Text(x + 13.0, y + 3.5, words, "sans", 8.5, colour=INK),
        ]
        x += wide + 4.0
    place = Text(0.0, y + 11.0, f"{motif.place}: {_counted(told, motif, count)}", "sans bold", 8.5, colour=INDIGO)
    return Block(y + 13.0, (*marks, place), keep=True)
