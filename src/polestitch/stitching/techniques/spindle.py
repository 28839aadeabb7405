"""Spindle (tsumu, sasa-no-ha): two tips on one line, the thread down one side and up the other.

The ball is turned at every tip, so both tips are worked at the top.  Each row leans round the tips
before it, which bows the flanks out: without that every row would lie on the guideline itself.
"""

from collections.abc import Iterable, Iterator
from typing import Annotated

import numpy as np
from pydantic import BaseModel, Field

from polestitch.document.lengths import Length
from polestitch.stitching.moves import Corners, growing
from polestitch.stitching.site import Site
from polestitch.stitching.stitches import Row

PLACE = "arc"
EXAMPLE = {"division": "S8", "where": "line 1", "rows": "4 navy, 1 white", "params": {"at": "1/2 from centre"}}


class Params(BaseModel, frozen=True, extra="forbid"):
    """Where the first row's tips stand."""

    at: Annotated[
        Length,
        Field(description="First tips, counted from the middle of the line (centre) or from its ends (edge)"),
    ] = Length("1/2 from centre")


def stitch(site: Site, params: Params, pitches: Iterable[float]) -> Iterator[Row]:
    """Rows of two bites, tips stepping apart along the line."""
    corners = Corners(
        azimuth=site.azimuths,
        distance=np.array([site.distance(params.at, k, "params.at") for k in range(2)]),
        spokes=site.numbers,
        clockwise=True,
    )
    return growing(corners, pitches, site)
