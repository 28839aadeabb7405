"""Ties (tabane, keeper ties): small strokes that bundle the threads on each line, or hold a band to the ball.

Across the lines they catch the bundles that cross a circle; across the circle they catch the turns of
a band along it, slightly wider than the band and not tight.  Each row is one more stroke at every tie.
"""

from collections.abc import Iterable, Iterator
from typing import Annotated, Literal

import numpy as np
from pydantic import BaseModel, Field

from polestitch.document.lengths import Length
from polestitch.errors import DesignError
from polestitch.sphere.arcs import Points
from polestitch.stitching.moves import Floats
from polestitch.stitching.site import Site
from polestitch.stitching.stitches import Row
from polestitch.stitching.strokes import stroke_row

PLACE = "circle"
EXAMPLE = {"division": "S8+obi", "where": "obi", "rows": "3 gold", "params": {}}
HOW = (
    "At each tie come up on one side of what it holds, go over, and go in on the other side, {length} away. "
    "Then run the needle under the wrap to the next.",
    "A bundle is drawn together; a band is only held, so leave its ties as wide as the band.",
)


class Params(BaseModel, frozen=True, extra="forbid"):
    """What the ties hold, how many there are, and how long."""

    across: Annotated[
        Literal["lines", "circle"],
        Field(description="lines: bundles that cross the circle there; circle: a band that runs along it"),
    ] = "lines"
    ties: Annotated[
        int | None, Field(ge=2, le=400, description="How many; none: one for each line that crosses the circle")
    ] = None
    length: Annotated[Length, Field(description="Length of a tie's stroke")] = Length("6 mm")


def stitch(site: Site, params: Params, pitches: Iterable[float]) -> Iterator[Row]:
    """Each row has one stroke at every tie; later ones lie on both sides of the first by turns."""
    count = site.ways if params.ties is None else params.ties
    if count < 2:
        raise DesignError("params.ties", "must be given here: fewer than two guidelines divide the circle")
    azimuth = site.azimuths if params.ties is None else np.arange(count) * 2 * np.pi / count
    half = site.width(params.length, "params.length") / 2
    former, rank = 0.0, 0.0
    for number, pitch in enumerate(pitches, 1):
        side = 1.0 if number % 2 == 0 else -1.0
        rank += (former + pitch) / 2 if number % 2 == 0 else 0.0
        former = pitch
        ups, ends = _strokes(azimuth, half, side * rank, params.across == "lines")
        yield stroke_row(site, (number, pitch, number - 1), ups, ends)


def _strokes(azimuth: Floats, half: float, aside: float, along: bool) -> tuple[Points, Points]:
    """Ends of the ties at ``azimuth``, ``aside`` from their middles: along the circle, or square to it."""
    if along:
        return _at(azimuth - half, np.full(len(azimuth), aside)), _at(azimuth + half, np.full(len(azimuth), aside))
    return _at(azimuth + aside, np.full(len(azimuth), half)), _at(azimuth + aside, np.full(len(azimuth), -half))


def _at(azimuth: Floats, latitude: Floats) -> Points:
    across = np.cos(latitude)
    return np.stack([across * np.cos(azimuth), across * np.sin(azimuth), np.sin(latitude)], axis=1)
