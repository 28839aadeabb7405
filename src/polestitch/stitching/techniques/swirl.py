"""Swirl (uzumaki): one thread round and round inside a polygon, every bite a small step in from the last wall.

Each bite lies on the thread laid one round before, the in-step along it from where it began, so the
path turns into an inward spiral and its bites line up in curved blades.  The step is named as the
thing to keep exact and given on no page: a small one gives a dense swirl of many turns.
"""

from collections.abc import Iterable, Iterator
from typing import Annotated

import numpy as np
from pydantic import BaseModel, Field

from polestitch.document.lengths import BY_HAND, Length
from polestitch.errors import DesignError
from polestitch.sphere.arcs import Points, arc_angle, cross, move, toward, unit
from polestitch.stitching.site import Site
from polestitch.stitching.stitches import Row
from polestitch.stitching.strokes import spots

PLACE = "centre"
EXAMPLE = {"division": "S8", "where": "N", "rows": "8 navy", "params": {}}
_INSIDE = 1e-3
HOW = (
    "The corners of the outline stand on the lines: {at}. Set a pin at each, and measure them well.",
    "Start at a corner and run round inside the outline. The first round goes from corner to corner.",
    "From then on take each bite on the thread of the round before, always the same small step along it from its "
    "corner. Here it is {in_step}; measure it every time, for the swirl lives on its evenness.",
    "Do not close the rounds: each goes over into the next.",
)


class Params(BaseModel, frozen=True, extra="forbid"):
    """The outline, and how far in each bite goes."""

    corners: Annotated[int, Field(ge=3, le=16, description="Corners of the outline")] = 4
    at: Annotated[Length, Field(description="Corners of the outline, on the guidelines")] = Length("2/3 from centre")
    in_step: Annotated[
        Length,
        Field(
            description="From a corner along the former round's thread to the next bite. A starting point",
            json_schema_extra=BY_HAND,
        ),
    ] = Length("4 mm")


def stitch(site: Site, params: Params, pitches: Iterable[float]) -> Iterator[Row]:
    """One round inside the one before for each pitch; the last bite of a row is the first place of the next."""
    if site.ways % params.corners:
        fits = ", ".join(str(k) for k in range(3, site.ways + 1) if site.ways % k == 0) or "none"
        raise DesignError("params.corners", f"{params.corners} do not divide the {site.ways} lines here; {fits} would")
    index = np.arange(params.corners) * (site.ways // params.corners)
    distance = np.array([site.distance(params.at, int(k), "params.at") for k in index])
    if distance.max() > np.pi / 2 - _INSIDE:
        raise DesignError("params.at", "must be less than a quarter of the ball, or no round goes inward")
    path = list(spots(site.azimuths[index], distance))
    step, numbers = site.width(params.in_step, "params.in_step"), [site.numbers[k] for k in index]
    for number, pitch in enumerate(pitches, 1):
        _wind(path, params.corners, step, number)
        yield _round(site, np.stack(path[-params.corners - 1 :]), (number, pitch, step), numbers)


def _wind(path: list[Points], corners: int, step: float, number: int) -> None:
    """Add the bites of one round: its first place is there already, and the last is the next round's first."""
    for _ in range(corners if len(path) > corners else 1):
        wall, end = path[-corners], path[-corners + 1]
        if float(arc_angle(wall, end)) <= 1.5 * step:
            raise DesignError("rows", f"fill the figure: after {number - 1} rounds there is no room for another")
        path.append(move(wall, toward(wall, end), step))


def _round(site: Site, path: Points, size: tuple[int, float, float], numbers: list[int]) -> Row:
    """``path`` (b + 1, 3) from the round's first place to the next round's."""
    number, pitch, step = size
    places = np.roll(path[1:], 1, axis=0)
    starts = path[:-1]
    inward = unit(np.array([0.0, 0.0, 1.0]) - starts * starts[:, 2:])
    right = unit(cross(inward, starts))
    count = len(starts)
    return Row(
        number=number,
        pitch=pitch,
        places=move(places, unit(right - np.sum(right * places, axis=1)[:, None] * places), site.bite),
        travel=right,
        half=np.full(count, site.bite),
        outward=inward,
        step=np.full(count, step),
        narrow=np.zeros(count, dtype=bool),
        wide=np.zeros(count, dtype=bool),
        spokes=tuple(numbers),
        plan=number - 1,
        up=move(starts, -right, site.bite),
    )
