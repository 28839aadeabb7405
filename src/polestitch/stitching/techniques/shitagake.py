"""Shitagake (under zigzag): a zigzag whose inner bites duck the thread under the threads they meet.

The counterpart of the over zigzag: each inner bite is small and stands directly outside the former
one, and before it the needle slips, eye first, under the legs of the rows before.  Earlier rows so
stay on top at the centre, where the later ones look like lace below them.  Sources give the effect
and the ducking, not the exact place of the bite: that is the first thing to correct by eye.
"""

from collections.abc import Iterable, Iterator
from dataclasses import replace
from typing import Annotated

import numpy as np
from pydantic import BaseModel, Field

from polestitch.document.lengths import BY_HAND, Length
from polestitch.stitching.moves import Corners, ducking, growing
from polestitch.stitching.site import Site
from polestitch.stitching.stitches import Row

PLACE = "centre"
EXAMPLE = {"division": "S8", "where": "N", "rows": "2 navy, 1 white, 2 navy", "params": {}}
HOW = (
    "From row 2 on, before each inner bite slip the needle, eye first, under the legs of the earlier rows there. "
    "Then take a small bite just outside the former one, and slip under the same legs on your way out.",
)


class Params(BaseModel, frozen=True, extra="forbid"):
    """Where the first row's points sit, and how the inner bites move."""

    outer: Annotated[Length, Field(description="First outer tips, on the guideline")] = Length("1/3 from obi")
    inner: Annotated[Length, Field(description="First inner bites, from the centre")] = Length("10 mm")
    set: Annotated[int, Field(ge=1, le=2, description="1: outer tips on the start line; 2: one line further")] = 1
    duck: Annotated[
        Length,
        Field(
            description="How far round an inner bite the thread goes under what it meets. No page gives it",
            json_schema_extra=BY_HAND,
        ),
    ] = Length("8 mm")


def stitch(site: Site, params: Params, pitches: Iterable[float]) -> Iterator[Row]:
    """Rows of a zigzag: outer tip, inner bite, outer tip … until the start is reached again."""
    count = site.ways if site.ways % 2 == 0 else 2 * site.ways
    index = (np.arange(count) + params.set - 1) % site.ways
    outer = np.arange(count) % 2 == 0
    asked = [("outer", params.outer) if out else ("inner", params.inner) for out in outer]
    distance = [site.distance(length, int(k), f"params.{name}") for k, (name, length) in zip(index, asked)]
    corners = Corners(
        azimuth=site.azimuths[index],
        distance=np.array(distance),
        spokes=tuple(site.numbers[k] for k in index),
        laps=1 if site.ways % 2 == 0 else 2,
    )
    within = site.width(params.duck, "params.duck")
    for row in growing(corners, pitches, site):
        yield replace(row, beneath=ducking(row.number, row.places[~outer], within))
