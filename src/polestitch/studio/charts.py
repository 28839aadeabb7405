"""The charts alone, without the booklet's words.  Runs in a worker.

In: a build and a paper.  Out: sheets, one section a layer.
"""

from polestitch.errors import DesignError
from polestitch.pipeline import Build
from polestitch.sheets.blocks import Block, space
from polestitch.sheets.pages import Grid, Section, flowed, numbered_sheets
from polestitch.sheets.sheet import INDIGO, Sheet, paper_named
from polestitch.sheets.views import motif_chart, unlike_motifs


def chart_sheets(build: Build, paper: str) -> tuple[Sheet, ...]:
    """Every chart of every layer; ``DesignError`` where there is no layer yet."""
    if not build.motifs:
        raise DesignError("layers", "there is nothing to chart on this ball yet; add a layer first")
    grid = Grid(paper_named(paper))
    sections = [_section(build, k, grid) for k in range(len(build.design.layers))]
    return numbered_sheets(flowed(sections, grid), grid.paper, build.design.name)


def _section(build: Build, layer: int, grid: Grid) -> Section:
    blocks: list[Block] = []
    for motif in unlike_motifs(build, layer):
        blocks += [motif_chart(build, motif), space(4.0)]
    return Section(f"{layer + 1}  {build.design.layers[layer].name}", INDIGO, tuple(blocks))
