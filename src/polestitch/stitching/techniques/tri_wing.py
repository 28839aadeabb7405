"""Tri-wing (mitsubane kikkou): a hexagon with three horns, all of one continuous thread.

Sources name the figure, its six lines and its single thread, and leave its order open.  Here a far
bite and a near bite alternate, two lines on each time: six threads that pass the centre bound the
hexagon, and every second line carries a horn and, inside it, a near bite.  "outline" is the other
reading: far bites on every second line, near ones on the lines between, and the thread never crosses
the figure.
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
EXAMPLE = {"division": "S6", "where": "N", "rows": "4 navy, 1 gold", "params": {}}
_WINGS = 3


class Params(BaseModel, frozen=True, extra="forbid"):
    """Where the horns and the near bites stand, and in which order the thread goes."""

    horn: Annotated[Length, Field(description="Tips of the first row's horns, on the guideline")] = Length(
        "1/2 from centre"
    )
    near: Annotated[Length, Field(description="Near bites of the first row, on the guideline")] = Length(
        "1/5 from centre"
    )
    order: Annotated[
        Literal["across", "outline"],
        Field(description="across: two lines on each time, twice round; outline: the next line each time, once round"),
    ] = "across"


def stitch(site: Site, params: Params, pitches: Iterable[float]) -> Iterator[Row]:
    """Rows of six bites, far and near by turns."""
    if site.ways % (2 * _WINGS):
        raise DesignError("where", f"six lines are needed, and 6 does not divide the {site.ways} lines here")
    lines = np.arange(2 * _WINGS)
    index = (2 * lines if params.order == "across" else lines) % (2 * _WINGS) * (site.ways // (2 * _WINGS))
    far = lines % 2 == 0
    asked = [("horn", params.horn) if out else ("near", params.near) for out in far]
    distance = [site.distance(length, int(k), f"params.{name}") for k, (name, length) in zip(index, asked)]
    if min(d for d, out in zip(distance, far) if out) <= max(d for d, out in zip(distance, far) if not out):
        raise DesignError("params.near", "must lie nearer to the centre than the horns")
    corners = Corners(
        azimuth=site.azimuths[index],
        distance=np.array(distance),
        spokes=tuple(site.numbers[k] for k in index),
        laps=2 if params.order == "across" else 1,
    )
    return growing(corners, pitches, site)
