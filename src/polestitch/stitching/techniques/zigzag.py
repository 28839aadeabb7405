"""Zigzag (chidori): a line of slanting stitches along a circle, bites above and below it by turns.

Over a band it accents the band and holds it.  Single is one zigzag; double adds a second that
mirrors the first, so the two cross on the line.
"""

from collections.abc import Iterable, Iterator
from dataclasses import replace
from typing import Annotated

import numpy as np
from pydantic import BaseModel, Field

from polestitch.document.lengths import Length
from polestitch.errors import DesignError
from polestitch.stitching.moves import Corners, growing
from polestitch.stitching.site import Site
from polestitch.stitching.stitches import Row

PLACE = "circle"
EXAMPLE = {"division": "S8+obi", "where": "obi", "rows": "1 gold", "params": {"height": "5 mm", "double": True}}


class Params(BaseModel, frozen=True, extra="forbid"):
    """How high and how close the zigzag is."""

    height: Annotated[Length, Field(description="From the line to the first bites, each side")] = Length("5 mm")
    bites: Annotated[
        int | None, Field(ge=2, le=400, description="Bites on each side; none: one for each crossing of the line")
    ] = None
    double: Annotated[bool, Field(description="A second zigzag that mirrors the first")] = False


def stitch(site: Site, params: Params, pitches: Iterable[float]) -> Iterator[Row]:
    """Rows of bites above and below; a double zigzag takes two rows for each pitch."""
    each = site.ways if params.bites is None else params.bites
    if each < 2:
        raise DesignError("params.bites", "must be given here: no guideline crosses the line")
    height = site.width(params.height, "params.height")
    pitches = list(pitches)
    strands = [growing(_corners(site, each, height, shift), pitches, site) for shift in range(1 + params.double)]
    for k, rows in enumerate(zip(*strands)):
        for strand, row in enumerate(rows):
            yield replace(row, number=k * len(rows) + strand + 1, strand=strand)


def _corners(site: Site, each: int, height: float, shift: int) -> Corners:
    follows_lines = each == site.ways
    if follows_lines:
        ends = np.append(site.azimuths, site.azimuths[0] + 2 * np.pi)
        azimuth = np.stack([ends[:-1], (ends[:-1] + ends[1:]) / 2], axis=1).ravel()
    else:
        azimuth = np.arange(2 * each) * np.pi / each
    numbers = [site.numbers[k // 2] if follows_lines else k + 1 for k in range(2 * each)]
    above = (np.arange(2 * each) + shift) % 2 == 0
    return Corners(
        azimuth=azimuth,
        distance=np.where(above, np.pi / 2 - height, np.pi / 2 + height),
        spokes=tuple(numbers),
        way=np.where(above, -1.0, 1.0),
    )
