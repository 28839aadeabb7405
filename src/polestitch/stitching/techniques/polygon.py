"""Polygon: a square, triangle, pentagon or any other figure, row beside row round a centre.

Worked outward it grows from its first row; worked inward it fills the outline.  Corners stand on
every second, third … guideline, so their number must divide the guidelines there are.
"""

from collections.abc import Iterable, Iterator
from typing import Annotated, Literal

import numpy as np
from pydantic import BaseModel, Field

from polestitch.document.lengths import Length
from polestitch.errors import DesignError
from polestitch.stitching.moves import Corners, growing
from polestitch.stitching.site import Site
from polestitch.stitching.stitches import Row

PLACE = "centre"
EXAMPLE = {"division": "S8", "where": "N", "rows": "3 navy, 2 white", "params": {"corners": 4, "at": "10 mm"}}


class Params(BaseModel, frozen=True, extra="forbid"):
    """How many corners, where the first row's stand, and which way later rows go."""

    corners: Annotated[int, Field(ge=3, le=64, description="Corners of the figure")] = 4
    at: Annotated[Length, Field(description="Corners of the first row, on the guideline")] = Length("1/3 from centre")
    grow: Annotated[Literal["outward", "inward"], Field(description="Where the next row goes")] = "outward"


def stitch(site: Site, params: Params, pitches: Iterable[float]) -> Iterator[Row]:
    """Rows of ``corners`` bites each, one lap a row."""
    if site.ways % params.corners:
        fits = ", ".join(str(k) for k in range(3, site.ways + 1) if site.ways % k == 0) or "none"
        raise DesignError("params.corners", f"{params.corners} do not divide the {site.ways} lines here; {fits} would")
    index = np.arange(params.corners) * (site.ways // params.corners)
    corners = Corners(
        azimuth=site.azimuths[index],
        distance=np.array([site.distance(params.at, int(k), "params.at") for k in index]),
        spokes=tuple(site.numbers[k] for k in index),
        way=np.full(params.corners, 1.0 if params.grow == "outward" else -1.0),
    )
    return growing(corners, pitches, site)
