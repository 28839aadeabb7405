"""Colour plans on paper: the best dozen as pictures, which thread is where, and what looks alike.

In: what ``polestitch colour-plans --json`` tells, and the pictures of each plan.  Out: a PDF.
"""

from collections.abc import Mapping, Sequence
from typing import Any

from polestitch.document.said import listed
from polestitch.sheets.blocks import BODY, Block, Style, beside, paragraph, space, stack
from polestitch.sheets.cover import photograph
from polestitch.sheets.pages import CELL, SIDE, Grid, Section, flowed, numbered_sheets
from polestitch.sheets.pdf import pdf
from polestitch.sheets.sheet import HAIR, INDIGO, Image, Line, Mark, Pen, Sheet, moved, paper_named, rectangle

Told = Mapping[str, Any]
Pictures = tuple[bytes, bytes]
NUMBER = Style("serif bold", 15, 19)
WARNED = Style("sans", 8, 10.8)
SIDE_MM, SWATCH, HANG = 38.0, 4.0, 8.0
NOTE = (
    "The pictures show the ball from both sides. Lay your own threads side by side before you trust a colour on paper."
)
SIGHT = (
    "Two threads are called nearly alike where they differ by less than 10 (CIEDE2000), which is common practice and "
    "has no source. Colour vision is simulated at its strongest after Machado and others (2009)."
)


def plans_pdf(name: str, told: Told, pictures: Sequence[Pictures], paper: str = "a4") -> bytes:
    """All plans, numbered as everywhere else."""
    return pdf(plans_sheets(name, told, pictures, paper), f"{name}: colour plans")


def plans_sheets(name: str, told: Told, pictures: Sequence[Pictures], paper: str) -> tuple[Sheet, ...]:
    """The same as sheets."""
    grid = Grid(paper_named(paper))
    cards = [_card(number, plan, sides, grid) for number, (plan, sides) in enumerate(zip(told["plans"], pictures), 1)]
    plans = [_row(cards[k : k + 2], grid) for k in range(0, len(cards), 2)]
    notes = (space(2.0), paragraph(NOTE, grid.span(9), SIDE), space(1.0), paragraph(SIGHT, grid.span(9), SIDE))
    opening = (paragraph(_of(told), grid.span(10), BODY), paragraph(told["said"], grid.span(10), BODY))
    care = [paragraph(f"Take care: {sentence}", grid.span(10), BODY) for sentence in told["notes"]]
    section = Section("Colour plans", INDIGO, (*opening, *care, space(4.0), *plans, *notes))
    return numbered_sheets(flowed([section], grid), grid.paper, name)


def _of(told: Told) -> str:
    names = listed([thread["name"] for thread in told["plans"][0]["threads"]])
    layer = told["asked"]["layer"]
    return {
        "motifs": f"The motifs of “{layer}” in {names}.",
        "stripes": f"The stripes of “{layer}” in {names}.",
        "rows": f"The rows of “{layer}” in {names}.",
        "layers": f"The layers of the ball in {names}.",
    }[told["by"]]


def _row(cards: Sequence[Block], grid: Grid) -> Block:
    """Two plans side by side, a hairline below."""
    both = beside([(grid.x(6 * k), card) for k, card in enumerate(cards)])
    rule = Line(0.0, both.height + 1.5, grid.width, both.height + 1.5, Pen(HAIR, 0.15))
    return Block(both.height + 4.5, (*both.marks, rule))


def _card(number: int, plan: Told, sides: Pictures, grid: Grid) -> Block:
    """The number, both sides of the ball, and the words under them."""
    marks: list[Mark] = [*paragraph(str(number), HANG, NUMBER).marks]
    for k, (side, word) in enumerate(zip(sides, ("front", "back"))):
        words = f"Plan {number} from the {word}"
        marks.append(Image(HANG + k * SIDE_MM, 0.0, SIDE_MM, SIDE_MM, photograph(side), words))
    told = stack(_words(plan, grid.span(6) - HANG), 0.8)
    return Block(SIDE_MM + told.height, (*marks, *told.at(HANG, SIDE_MM)))


def _words(plan: Told, width: float) -> list[Block]:
    said = str(plan["said"])
    threads = [_thread(thread, width) for thread in plan["threads"] if thread["where"]]
    return [
        paragraph(f"{said[:1].upper()}{said[1:]}.", width, SIDE),
        *threads,
        *(paragraph(f"Take care: {sentence}", width, WARNED) for sentence in plan["notes"]),
    ]


def _thread(thread: Told, width: float) -> Block:
    """A swatch, the thread's name, and where it goes."""
    swatch = rectangle((0.0, 0.0, SWATCH, SWATCH), Pen(HAIR, 0.2), thread["colour"])
    left = SWATCH + 2.0
    words = paragraph(f"{thread['name']}: {thread['said']}", width - left, CELL)
    return Block(max(words.height, SWATCH), (swatch, *moved(words.marks, left, 0.0)))
