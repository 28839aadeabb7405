"""The cover: the ball, its name, and what a maker wants to know before she turns the page.

In: ``Told`` and the grid.  Out: marks of one page.
"""

import io

from PIL import Image as Pictures

from polestitch.document.said import near_length
from polestitch.sheets.blocks import Style, paragraph
from polestitch.sheets.pages import Grid
from polestitch.sheets.sheet import INDIGO, INK, MARGIN, QUIET, Image, Line, Mark, Pen, rectangle
from polestitch.sheets.told import Told

TITLE = Style("serif bold", 34, 40)
NAME = Style("sans", 8, 11, QUIET)
FACT = Style("serif", 13, 17)
LINE = Style("serif italic", 12, 17, QUIET)


def cover(told: Told, grid: Grid) -> tuple[Mark, ...]:
    """Picture, title, a line of description, and four facts along the foot."""
    side = min(grid.width - 10.0, grid.paper.height - 130.0)
    left = (grid.paper.width - side) / 2
    marks: list[Mark] = []
    if told.picture is not None:
        words = f"The finished ball {told.build.design.name}"
        marks.append(Image(left, MARGIN, side, side, photograph(told.picture), words))
    y = MARGIN + side + 2.0
    title = paragraph(told.build.design.name, grid.width, TITLE)
    about = paragraph(_about(told), grid.span(9), LINE)
    marks += [rectangle((MARGIN, y, MARGIN + 16.0, y + 0.9), None, INDIGO), *title.at(MARGIN, y + 5.0)]
    marks += about.at(MARGIN, y + 7.0 + title.height)
    return (*marks, *_facts(told, grid))


def photograph(data: bytes) -> bytes:
    """A picture as JPEG on white: a tenth of the bytes, and no difference on paper."""
    with Pictures.open(io.BytesIO(data)) as opened:
        clear = opened.convert("RGBA")
    page = Pictures.new("RGB", clear.size, "#ffffff")
    page.paste(clear, mask=clear)
    file = io.BytesIO()
    page.save(file, "JPEG", quality=90, subsampling=0)
    return file.getvalue()


def _about(told: Told) -> str:
    """The layers' names in stitching order, or the maker's own first line."""
    design = told.build.design
    if design.notes:
        return design.notes.splitlines()[0][:300]
    names = [layer.name for layer in design.layers]
    return ", ".join(names[:8]) + (" …" if len(names) > 8 else "")


def _facts(told: Told, grid: Grid) -> list[Mark]:
    build = told.build
    hours = told.estimate.hours
    facts = (
        ("Level", build.design.level),
        ("Size", f"{near_length(build.ball.around_mm, build.design.maker.units)} round"),
        ("Division", build.marking.division.replace("+", " + ")),
        ("Hours of work", f"{hours.likely:.0f}, from {hours.low:.0f} to {hours.high:.0f}"),
    )
    y = grid.paper.height - MARGIN - 20.0
    marks: list[Mark] = [Line(MARGIN, y, grid.paper.width - MARGIN, y, Pen(INK, 0.2))]
    for k, (name, fact) in enumerate(facts):
        x = MARGIN + grid.x(3 * k)
        marks += paragraph(name, grid.span(3), NAME).at(x, y + 2.0)
        marks += paragraph(fact, grid.span(3), FACT).at(x, y + 6.4)
    return marks
