"""Sakasa uwagake (inward over-stitch): gathering bites at every corner, from the outline toward the centre.

Every bite goes over and round all earlier threads, so bites widen row by row and the sides come out
concave.  Steps of one line give a polygon, longer ones a star; an eight-point star whose thread goes
to every third line is the usual one.
"""

from collections.abc import Iterable, Iterator
from math import gcd
from typing import Annotated

import numpy as np
from pydantic import BaseModel, Field

from polestitch.document.lengths import Length
from polestitch.errors import DesignError
from polestitch.stitching.moves import Corners, growing
from polestitch.stitching.site import Site
from polestitch.stitching.stitches import Row

PLACE = "centre"
EXAMPLE = {"division": "S8", "where": "N", "rows": "3 navy, 2 white", "params": {"at": "1/2 from centre"}}


class Params(BaseModel, frozen=True, extra="forbid"):
    """The figure, where its outline stands, and how the bites move."""

    corners: Annotated[int, Field(ge=3, le=64, description="Corners of the outline")] = 8
    step: Annotated[int, Field(ge=1, le=31, description="Corners from one bite to the next; 1: a polygon")] = 3
    at: Annotated[Length, Field(description="Corners of the first row, on the outline")] = Length("5 mm from edge")
    inward_step: Annotated[
        float,
        Field(
            ge=0, le=1.5, description="How far each bite moves toward the centre, in thread widths. A starting point"
        ),
    ] = 1.0


def stitch(site: Site, params: Params, pitches: Iterable[float]) -> Iterator[Row]:
    """Rows of a {corners/step} path whose bites step toward the middle and widen."""
    count, step = params.corners, params.step
    if site.ways % count:
        fits = ", ".join(str(k) for k in range(3, site.ways + 1) if site.ways % k == 0) or "none"
        raise DesignError("params.corners", f"{count} do not divide the {site.ways} lines here; {fits} would")
    if 2 * step >= count:
        raise DesignError("params.step", f"{step} must be less than half of the {count} corners")
    share = gcd(count, step)
    index = (np.arange(count // share) * step % count) * (site.ways // count)
    corners = Corners(
        azimuth=site.azimuths[index],
        distance=np.array([site.distance(params.at, int(k), "params.at") for k in index]),
        spokes=tuple(site.numbers[k] for k in index),
        laps=step // share,
        way=np.full(len(index), -1.0),
        wide=np.ones(len(index), dtype=bool),
        wide_step=params.inward_step,
    )
    return growing(corners, pitches, site)
