"""The page "An example of a base": how a ball of the design's size can be wound with the usual wraps.

In: ``Told`` and the grid.  Out: a section, or none where the ball is too small for the usual wraps.  A design does not
name its core, so the page says that it is an example.
"""

from collections.abc import Iterator

from polestitch.document.said import near_length
from polestitch.errors import DesignError
from polestitch.sheets.blocks import BODY, paragraph, space
from polestitch.sheets.cut_through import cut_through
from polestitch.sheets.pages import SIDE, Grid, Section
from polestitch.sheets.sheet import INK
from polestitch.sheets.told import Told
from polestitch.sheets.winding_sheet import stops_table
from polestitch.winding import Plan, winding
from polestitch.winding.care import cautions
from polestitch.winding.told import MEASURE


def base_section(told: Told, grid: Grid) -> Iterator[Section]:
    """The page, for the planned size and the maker's own depth of a bite."""
    design = told.build.design
    try:
        plan = winding(told.build.ball.around_mm, dip_mm=design.maker.dip.mm or 0.0)
    except DesignError:
        return
    units = design.maker.units
    words = " ".join((*MEASURE, "Densities are estimates; your own figures make the next plan surer."))
    care = " ".join(cautions(plan.wanted_mm, plan.core, plan.noise))
    yield Section(
        "An example of a base",
        INK,
        (
            paragraph(_about(plan, near_length(plan.wanted_mm, units)), grid.span(10), BODY),
            space(3.0),
            cut_through(plan, grid.width),
            space(3.0),
            *stops_table(plan, grid, units),
            space(4.0),
            paragraph(words, grid.span(10), BODY),
            space(2.0),
            paragraph(care, grid.span(10), SIDE),
        ),
    )


def _about(plan: Plan, around: str) -> str:
    wraps = ", ".join(stop.material.title for stop in plan.stops)
    return (
        f"The pattern asks for no certain core. One that serves: {plan.core.title}, then {wraps}, {around} round. "
        "With another core or what you have at hand, plan it anew before you wind. Amounts are ranges: how densely you "
        "wind decides."
    )
