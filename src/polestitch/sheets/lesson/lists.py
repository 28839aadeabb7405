"""The kit list and the cut list of a class.

In: ``Lesson`` and the grid.  Out: sections.
"""

from collections.abc import Iterator, Sequence

from polestitch.document.said import listed, near_length
from polestitch.estimate.amounts import skein_mm
from polestitch.sheets.blocks import BODY, Block, Style, paragraph, space
from polestitch.sheets.lesson.parts import bullets, facts, subhead, ticked
from polestitch.sheets.pages import CELL, SIDE, Column, Grid, Section, table
from polestitch.sheets.sheet import HAIR, INK, MOSS, Mark, Pen, rectangle
from polestitch.steps.ball import CAUTIONS
from polestitch.teaching.cutting import Bundle, ThreadCuts, all_pieces, skeins_of
from polestitch.teaching.kit import KitLine
from polestitch.teaching.lesson import Lesson
from polestitch.teaching.told import bundles, cut_said

GROUPS = {"base": "For the balls", "thread": "Thread", "tools": "Tools", "paper": "Paper"}
BOLD = Style("sans bold", 8.5, 11.5)
BOX, SWATCH = 6.0, 8.0  # mm


def kit_section(lesson: Lesson, grid: Grid) -> Section:
    """Everything to bring, a box to tick beside each line."""
    spec = lesson.spec
    blocks: list[Block] = [*facts(spec, grid), paragraph(_for(lesson), grid.width, BODY), space(2.0)]
    for group, title in GROUPS.items():
        lines = [line for line in lesson.kit if line.group == group]
        if lines:
            blocks += [*subhead(title, grid), *_kit_table(lines, grid)]
    blocks += [*subhead("Take care", grid), *bullets(CAUTIONS, grid)]
    return Section("Kit list", MOSS, tuple(blocks))


def _for(lesson: Lesson) -> str:
    spec = lesson.spec
    spares = f" and {spec.spare_kits} to spare" if spec.spare_kits else ""
    return (
        f"{lesson.balls.planned.build.design.name}, for {spec.students} students{spares}. "
        "Spare kits fit the largest ball, so that each serves anybody."
    )


def _kit_table(lines: Sequence[KitLine], grid: Grid) -> list[Block]:
    columns = (
        Column("", 0.0, BOX),
        Column("Bring", BOX, grid.span(4) - BOX - 7.0),
        Column("How many", grid.x(4) - 6.0, grid.span(1) + 6.0, BOLD, right=True),
        Column("How much", grid.x(5) + 3.0, grid.span(3)),
        Column("", grid.x(8) + 2.0, grid.span(4) - 2.0, SIDE),
    )
    rows = [(" ", line.what, "" if line.count is None else f"{line.count:,}", line.amount, line.note) for line in lines]
    return [block if block.head is None else ticked(block) for block in table(columns, rows, grid.width)]


def cut_section(lesson: Lesson, grid: Grid) -> Section:
    """What to cut for whom, longest pieces first, and the skeins it comes from."""
    percent = lesson.spec.cut_spare
    about = (
        "Cut before the class, the longest pieces first. Each piece holds its ends, its share of what a join throws "
        f"away, and {percent:g} % for hands that pull less thread through. Tie each student's thread in one bundle "
        "and put her number on it."
    )
    blocks: list[Block] = [paragraph(about, grid.span(10), BODY), space(3.0)]
    for one, numbers in bundles(lesson):
        blocks += _bundle(lesson, one, numbers, grid)
    blocks += [*subhead("All together, spares included", grid), *_totals(lesson, grid)]
    return Section("Thread to cut", MOSS, tuple(blocks))


def _bundle(lesson: Lesson, one: Bundle, numbers: Sequence[int], grid: Grid) -> Iterator[Block]:
    names = listed([seat.numbered for seat in lesson.seats if seat.number in numbers])
    spares = lesson.spec.spare_kits if one == _largest(lesson) else 0
    to_spare = f", and {spares} to spare" if spares else ""
    yield from subhead(f"{len(numbers) + spares} × for a ball {one.around_mm:.0f} mm round", grid)
    said = paragraph(f"For {names}{to_spare}.", grid.width, SIDE, keep=True)
    yield Block(said.height + 1.0, said.marks, keep=True)
    units = lesson.balls.planned.build.design.maker.units
    columns = (
        Column("", 0.0, BOX),
        Column("", BOX, SWATCH),
        Column("Thread", BOX + SWATCH + 2.0, grid.span(3) - 4.0, BOLD),
        Column("Cut", grid.x(4), grid.span(5)),
        Column("Together", grid.x(9), grid.span(3), CELL, right=True),
    )
    rows = [(" ", "", _named(cuts), _cuts(cuts, units), near_length(cuts.mm, units)) for cuts in one.threads]
    header, *body = table(columns, rows, grid.width)
    yield header
    for k, (block, cuts) in enumerate(zip(body, one.threads), 1):
        yield ticked(Block(block.height, (*_swatch(cuts.colour), *block.marks), k < len(body), block.head))


def _named(cuts: ThreadCuts) -> str:
    return f"{cuts.name} (marking too)" if cuts.marking else cuts.name


def _cuts(cuts: ThreadCuts, units: str) -> str:
    return ",  ".join(f"{cut.count} × {cut_said(cut.mm, units)}" for cut in cuts.cuts)


def _swatch(colour: str) -> tuple[Mark, ...]:
    return (rectangle((BOX, 0.9, BOX + SWATCH, 4.1), Pen(HAIR, 0.2), colour),)


def _largest(lesson: Lesson) -> Bundle:
    """What a spare kit is cut as."""
    return max(lesson.bundles, key=lambda one: one.around_mm)


def _totals(lesson: Lesson, grid: Grid) -> list[Block]:
    """Every thread with its pieces and skeins, as the kit list has it."""
    design = lesson.balls.planned.build.design
    cut = [*lesson.bundles, *[_largest(lesson)] * lesson.spec.spare_kits]
    rows = []
    for k, thread in enumerate(design.threads):
        pieces = all_pieces(cut, k)
        skeins = skeins_of(pieces, skein_mm(thread))
        words = "" if skeins is None else str(skeins)
        if pieces:
            rows.append((thread.name, str(len(pieces)), near_length(sum(pieces), design.maker.units), words))
    columns = (
        Column("Thread", 0.0, grid.span(5), BOLD),
        Column("Pieces", grid.x(5), grid.span(2), CELL, right=True),
        Column("Length", grid.x(7), grid.span(3), CELL, right=True),
        Column("Skeins", grid.x(10), grid.span(2), Style("sans bold", 8.5, 11.5, INK), right=True),
    )
    return table(columns, rows, grid.width)
