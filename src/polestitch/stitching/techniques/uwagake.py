"""Uwagake (kiku): a zigzag round a centre whose inner bites gather all the threads before them.

Outer tips are plain, so sharp that each row steps out by the maker's stretch and leans round the
former tip.  The inner needle goes over all threads and round all earlier legs, which builds the
crossed wedge that marks a kiku.  One set uses every guideline: outer tips on one, inner on the next.
An odd number of guidelines brings the thread home after two laps only; so do longer steps after several.
"""

from collections.abc import Iterable, Iterator
from math import lcm
from typing import Annotated

import numpy as np
from pydantic import BaseModel, Field

from polestitch.document.lengths import Length
from polestitch.errors import DesignError
from polestitch.stitching.moves import Corners, Floats, growing
from polestitch.stitching.site import Site
from polestitch.stitching.stitches import Row

PLACE = "centre"
EXAMPLE = {"division": "S8", "where": "N", "rows": "2 navy, 1 white, 2 navy", "params": {}}


class Params(BaseModel, frozen=True, extra="forbid"):
    """Where the first row's points sit, and how the inner bites move."""

    outer: Annotated[Length, Field(description="First outer tips, on the guideline")] = Length("1/3 from obi")
    inner: Annotated[Length, Field(description="First inner bites, from the centre")] = Length("6 mm")
    set: Annotated[int, Field(ge=1, le=2, description="1: outer tips on the start line; 2: one line further")] = 1
    inner_step: Annotated[
        float,
        Field(
            ge=-1,
            le=1.5,
            description="How far each inner bite moves away from the centre, in thread widths; less than 0: toward it, "
            "which fills the centre. No page gives it: a starting point to correct by eye",
        ),
    ] = 1.0
    step: Annotated[int, Field(ge=1, le=31, description="Lines from one bite to the next")] = 1
    between: Annotated[bool, Field(description="Stitch in the middle between the lines instead of on them")] = False


def stitch(site: Site, params: Params, pitches: Iterable[float]) -> Iterator[Row]:
    """Rows of a zigzag: outer tip, inner bite, outer tip … until the start is reached again."""
    if 2 * params.step >= site.ways:
        raise DesignError("params.step", f"must be less than half of the {site.ways} lines here; divide the ball finer")
    round_trip = lcm(site.ways, params.step)
    count = lcm(2, round_trip // params.step)
    index = (np.arange(count) * params.step + params.set - 1) % site.ways
    outer = np.arange(count) % 2 == 0
    asked = [("outer", params.outer) if out else ("inner", params.inner) for out in outer]
    distance = [site.distance(length, int(k), f"params.{name}") for k, (name, length) in zip(index, asked)]
    corners = Corners(
        azimuth=_half_way(site)[index] if params.between else site.azimuths[index],
        distance=np.array(distance),
        spokes=tuple(site.numbers[k] for k in index),
        laps=count * params.step // site.ways,
        wide=~outer,
        wide_step=params.inner_step,
    )
    return growing(corners, pitches, site)


def _half_way(site: Site) -> Floats:
    """(w,) azimuths in the middle between each guideline and the next."""
    return np.asarray(site.azimuths + np.mod(np.roll(site.azimuths, -1) - site.azimuths, 2 * np.pi) / 2)
