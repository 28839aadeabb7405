"""The last pages: finishing, what the checks found, and cautions.

In: ``Told`` and the grid.  Out: a section.
"""

from polestitch.checks import Finding
from polestitch.sheets.blocks import BODY, Block, Style, numbered, paragraph
from polestitch.sheets.pages import SUBHEAD, Grid, Section
from polestitch.sheets.sheet import MADDER, MOSS, Circle, Mark, Path, Pen, Text, polygon
from polestitch.sheets.told import Told

WORDS = {"stop": "Stop", "care": "Take care", "note": "Note"}


def closing(told: Told, grid: Grid) -> Section:
    """Finishing steps, findings, cautions."""
    blocks: list[Block] = []
    finish = told.instructions.of("finish")
    blocks += [_step(str(step.number), step.text, grid) for step in finish]
    if told.findings:
        blocks += _head("What to watch on this ball", grid)
        blocks += [_finding(told, finding, grid) for finding in told.findings]
    blocks += _head("Cautions", grid)
    blocks += [_step("", text, grid, dot=True) for text in told.instructions.cautions]
    return Section("Finishing", MADDER, tuple(blocks))


def _head(words: str, grid: Grid) -> list[Block]:
    head = paragraph(words, grid.width, SUBHEAD)
    return [Block(head.height + 8.0, head.at(0.0, 6.0), keep=True)]


def _step(number: str, text: str, grid: Grid, dot: bool = False) -> Block:
    block = numbered(number, text, grid.span(9))
    point = (Circle(4.6, BODY.drop_mm - 1.2, 0.55, None, MADDER),) if dot else ()
    return Block(block.height + 1.6, (*block.marks, *point))


def _finding(told: Told, finding: Finding, grid: Grid) -> Block:
    """Mark, word, place and sentence: never colour alone."""
    sentence = paragraph(finding.sentence, grid.span(8), BODY)
    word = Text(6.0, BODY.drop_mm, WORDS[finding.severity], "sans bold", 8.5, colour=_ink(finding))
    where = paragraph(_where(told, finding), grid.span(3) - 6.0, Style("sans", 7.5, 10))
    marks = (*sign(finding.severity), word, *where.at(6.0, BODY.line_mm), *sentence.at(grid.x(3), 0.0))
    return Block(max(sentence.height, BODY.line_mm + where.height) + 3.0, marks)


def _ink(finding: Finding) -> str:
    return {"stop": MADDER, "care": MADDER, "note": MOSS}[finding.severity]


def sign(severity: str) -> tuple[Mark, ...]:
    """A square to stop, a triangle to take care, a ring to note."""
    y = BODY.drop_mm - 1.3
    if severity == "stop":
        return (polygon(((1.0, y - 1.5), (4.0, y - 1.5), (4.0, y + 1.5), (1.0, y + 1.5)), None, MADDER),)
    if severity == "care":
        triangle: Path = polygon(((2.5, y - 1.7), (4.4, y + 1.5), (0.6, y + 1.5)), Pen(MADDER, 0.4))
        return (triangle,)
    return (Circle(2.5, y, 1.4, Pen(MOSS, 0.4)),)


def _where(told: Told, finding: Finding) -> str:
    """Layer, row and place, as far as they are known."""
    parts = [] if finding.layer is None else [told.build.design.layers[finding.layer].name]
    parts += [] if finding.row is None else [f"row {finding.row}"]
    return ", ".join([*parts, *([finding.address] if finding.address else [])])
