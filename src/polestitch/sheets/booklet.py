"""The booklet: a design as a printed pattern, in the order a maker works.

In: ``Told`` and a paper.  Out: sheets, or their PDF.
"""

from collections.abc import Callable, Iterator, Mapping
from typing import Any

from polestitch.picture.render import png
from polestitch.pipeline import Build
from polestitch.sheets.base_page import base_section
from polestitch.sheets.closing import closing
from polestitch.sheets.cover import cover
from polestitch.sheets.layer_pages import layer_section
from polestitch.sheets.marking_pages import marking_section
from polestitch.sheets.materials import materials
from polestitch.sheets.pages import Grid, Section, flowed, numbered_sheets
from polestitch.sheets.pdf import pdf
from polestitch.sheets.sheet import Sheet, paper_named
from polestitch.sheets.sizes_page import sizes_section
from polestitch.sheets.told import Told, told

PICTURE = 1600  # pixels: 240 to the inch on the cover


def booklet(
    build: Build,
    paper: str = "a4",
    picture: bytes | None = None,
    done: Callable[[str], None] = lambda _: None,
    sizes: Mapping[str, Any] | None = None,
) -> bytes:
    """The whole booklet as PDF; without a ``picture`` (PNG or JPEG) the ball is pictured from N.

    ``done`` hears the name of every layer once its pages are made.  ``sizes``, as ``polestitch sizes --json``
    tells them, make a page for a ball that comes out different; without them there is none.
    """
    paper_named(paper)  # a wrong name is told before the long work
    cover_picture = png(build, "N", PICTURE) if picture is None else picture
    return pdf(booklet_sheets(told(build, cover_picture, sizes), paper, done), build.design.name)


def booklet_sheets(
    all_told: Told, paper: str = "a4", done: Callable[[str], None] = lambda _: None
) -> tuple[Sheet, ...]:
    """Cover, materials, a base, other sizes where they are told, marking, every layer, finishing and cautions."""
    grid = Grid(paper_named(paper))
    sections = (
        materials(all_told, grid),
        *base_section(all_told, grid),
        *sizes_section(all_told, grid),
        marking_section(all_told, grid),
        *_layers(all_told, grid, done),
        closing(all_told, grid),
    )
    bodies = [("Cover", cover(all_told, grid)), *flowed(sections, grid)]
    return numbered_sheets(bodies, grid.paper, all_told.build.design.name)


def _layers(all_told: Told, grid: Grid, done: Callable[[str], None]) -> Iterator[Section]:
    for layer, entry in enumerate(all_told.build.design.layers):
        yield layer_section(all_told, layer, grid)
        done(entry.name)
