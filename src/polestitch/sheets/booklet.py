"""The booklet: a design as a printed pattern, in the order a maker works.

In: ``Told`` and a paper.  Out: sheets, or their PDF.
"""

from polestitch.sheets.closing import closing
from polestitch.sheets.cover import cover
from polestitch.sheets.layer_pages import layer_section
from polestitch.sheets.marking_pages import marking_section
from polestitch.sheets.materials import materials
from polestitch.sheets.pages import Grid, flowed, numbered_sheets
from polestitch.sheets.pdf import pdf
from polestitch.sheets.sheet import Mark, Sheet, paper_named
from polestitch.sheets.told import Told


def booklet(told: Told, paper: str = "a4") -> bytes:
    """The whole booklet as PDF."""
    return pdf(booklet_sheets(told, paper), told.build.design.name)


def booklet_sheets(told: Told, paper: str = "a4") -> tuple[Sheet, ...]:
    """Cover, materials and base, marking, every layer, finishing and cautions."""
    grid = Grid(paper_named(paper))
    layers = range(len(told.build.design.layers))
    sections = (
        materials(told, grid),
        marking_section(told, grid),
        *(layer_section(told, layer, grid) for layer in layers),
        closing(told, grid),
    )
    bodies: list[tuple[str, tuple[Mark, ...]]] = [("Cover", cover(told, grid))]
    for section in sections:
        bodies += [(section.title if n == 0 else "", page) for n, page in enumerate(flowed(section, grid))]
    return numbered_sheets(bodies, grid.paper, told.build.design.name)
