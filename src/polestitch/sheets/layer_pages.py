"""One layer: what it is, its rows with their colours, its charts, and its steps.

In: ``Told``, a layer's index and the grid.  Out: a section.
"""

from itertools import groupby

from polestitch.document.design import Layer
from polestitch.document.said import Units, listed, set_length
from polestitch.sheets.blocks import BODY, Block, Style, paragraph, space
from polestitch.sheets.inks import row_ink
from polestitch.sheets.pages import GUTTER, SIDE, SUBHEAD, Column, Grid, Section, step_blocks, table
from polestitch.sheets.sheet import HAIR, INDIGO, INK, Line, Mark, Pen, Text, rectangle
from polestitch.sheets.told import Told
from polestitch.sheets.views import motif_chart, unlike_motifs
from polestitch.steps.table import RowLine
from polestitch.stitching.motifs import Motif

CHIP = Style("sans", 8.5, 11.5)
BOLD = Style("sans bold", 8.5, 11.5)
# What Japanese makers call the techniques (said once, beside the heading).
TERMS = {
    "uwagake": "上掛け千鳥かがり",
    "spindle": "紡錘かがり",
    "band": "巻きかがり",
    "zigzag": "千鳥かがり",
    "star": "星かがり",
}
POLYGONS = {3: "三角かがり", 4: "升かがり", 5: "五角かがり", 6: "六角かがり"}
MOST_CHARTS, MOST_KINDS = 4, 3


def layer_section(told: Told, layer: int, grid: Grid) -> Section:
    """The pages of one layer."""
    entry, kinds = told.build.design.layers[layer], unlike_motifs(told.build, layer)
    blocks: list[Block] = [paragraph(_about(told, layer, entry), grid.span(9), BODY, keep=True), Block(3.0, keep=True)]
    for motif in kinds[:MOST_CHARTS]:
        blocks += [_rows(told, motif, grid), Block(3.0, keep=True), motif_chart(told.build, motif), space(4.0)]
        blocks += _alike(told, motif, grid) + _table(told, motif, grid)
    if entry.notes:
        blocks += [paragraph(entry.notes, grid.span(9), Style("serif italic", 10.5, 14.5)), space(3.0)]
    steps = told.instructions.of("layer", layer)
    if steps:
        blocks.append(Block(SUBHEAD.line_mm + 1.5, paragraph("Step by step", grid.width, SUBHEAD).marks, keep=True))
        blocks += step_blocks(((str(step.number), step.text) for step in steps), grid.span(9))
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
    where = listed(likes) if len(likes) <= 6 else f"{likes[0]} to {likes[-1]}"
    return [paragraph(f"The same at {where}.", grid.span(9), SIDE), space(3.0)]


def _about(told: Told, layer: int, entry: Layer) -> str:
    """Technique and places; the order of work is told by the steps."""
    places = [motif.place for motif in told.build.motifs if motif.layer == layer]
    where = listed(places) if len(places) <= 6 else f"{len(places)} places, {places[0]} to {places[-1]}"
    return f"{entry.technique.capitalize()}, worked at {where}."


def _table(told: Told, motif: Motif, grid: Grid) -> list[Block]:
    """Every row with its colour and where its corners stand, kinds of corner side by side."""
    found = [t for t in told.instructions.tables_of(motif.layer) if motif.place in t.places]
    if not found or not found[0].rows:
        return []
    rows = found[0].rows
    kinds = list(dict.fromkeys((d.kind, d.pin) for line in rows for d in line.distances))[:MOST_KINDS]
    columns = [Column("Row", 0.0, 8.0, BOLD), Column("Thread", 12.0, grid.span(3) - 12.0)]
    step = (grid.width - grid.x(3)) / max(len(kinds), 1)
    for k, (kind, pin) in enumerate(kinds):
        columns.append(Column(f"{kind}, from {pin}", grid.x(3) + k * step, step - GUTTER))
    units = told.build.design.maker.units
    cells = [(str(line.number), line.thread, *(_said(line, kind, units) for kind in kinds)) for line in rows]
    return [*table(columns, cells, grid.width), space(6.0)]


def _said(line: RowLine, kind: tuple[str, str], units: Units) -> str:
    """Distances of one kind in one row: what a hand can set, the exact value, the share of the strip."""
    here = [d for d in line.distances if (d.kind, d.pin) == kind]
    return "\n".join(f"{set_length(d.mm, units)}, {d.fraction:.3f} C" for d in here)


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
    place = Text(
        0.0, y + 11.0, f"{motif.place}: {count} row{'s' if count != 1 else ''}", "sans bold", 8.5, colour=INDIGO
    )
    return Block(y + 13.0, (*marks, place), keep=True)
