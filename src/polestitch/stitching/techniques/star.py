"""Star (hoshi): the thread goes from point to point, skipping some, and closes after one or more laps.

The path joins ``points`` points by steps of ``step``; it comes home after points / gcd bites and
step / gcd laps.  Where points and step share a factor it reaches only some of the points; a second
layer started one point further works the others.
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
EXAMPLE = {"division": "S10", "where": "N", "rows": "3 gold, 1 navy", "params": {"points": 5, "step": 2}}


class Params(BaseModel, frozen=True, extra="forbid"):
    """How many points, how far each stroke reaches, and where the first row's points stand."""

    points: Annotated[int, Field(ge=5, le=64, description="Points of the star")] = 5
    step: Annotated[int, Field(ge=2, le=31, description="Points from one bite to the next")] = 2
    at: Annotated[Length, Field(description="Points of the first row, on the guideline")] = Length("1/2 from centre")


def stitch(site: Site, params: Params, pitches: Iterable[float]) -> Iterator[Row]:
    """Rows of a {points/step} path, stepping outward at every point."""
    points, step = params.points, params.step
    if site.ways % points:
        fits = ", ".join(str(k) for k in range(5, site.ways + 1) if site.ways % k == 0) or "none"
        raise DesignError("params.points", f"{points} do not divide the {site.ways} lines here; {fits} would")
    if 2 * step >= points:
        raise DesignError("params.step", f"{step} must be less than half of the {points} points")
    share = gcd(points, step)
    index = (np.arange(points // share) * step % points) * (site.ways // points)
    corners = Corners(
        azimuth=site.azimuths[index],
        distance=np.array([site.distance(params.at, int(k), "params.at") for k in index]),
        spokes=tuple(site.numbers[k] for k in index),
        laps=step // share,
    )
    return growing(corners, pitches, site)
