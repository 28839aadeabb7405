"""Woven wheel: an odd number of strokes from a centre, woven round and round over one and under the next.

The first entry of the row list makes the strokes, every further one is a round of weaving.  The odd
number makes each round go over where the former went under.
"""

from collections.abc import Iterable, Iterator
from dataclasses import replace
from typing import Annotated

import numpy as np
from pydantic import BaseModel, Field

from polestitch.document.lengths import Length
from polestitch.errors import DesignError
from polestitch.sphere.arcs import Points
from polestitch.stitching.site import Site
from polestitch.stitching.stitches import Beneath, Row
from polestitch.stitching.strokes import spots, stroke_row

PLACE = "centre"
EXAMPLE = {"division": "S8", "where": "N", "rows": "1 navy, 4 gold", "params": {}}
HOW = (
    "Row 1: straight strokes from the centre to the rim, evenly spread, their number odd.",
    "Then come up close to the centre and weave round with the eye of the needle first: over one stroke, under the "
    "next, without going into the ball. Push each round against the one before.",
    "The wheel is full when the rounds reach the ends of the strokes. Go in there.",
)


class Params(BaseModel, frozen=True, extra="forbid"):
    """How many strokes the wheel has, and how large it is."""

    strokes: Annotated[int, Field(ge=3, le=31, description="Strokes, an odd number")] = 7
    hub: Annotated[Length, Field(description="Where strokes and weaving begin, from the centre")] = Length("1 mm")
    rim: Annotated[Length, Field(description="Where the strokes end, from the centre")] = Length("8 mm")


def stitch(site: Site, params: Params, pitches: Iterable[float]) -> Iterator[Row]:
    """Strokes in the first row, then rounds of weaving."""
    count = params.strokes
    if count % 2 == 0:
        raise DesignError("params.strokes", f"must be odd, so {count - 1} or {count + 1}, or every round lies alike")
    hub, rim = (site.distance(length, 0, f"params.{n}") for n, length in (("hub", params.hub), ("rim", params.rim)))
    azimuth = np.arange(count) * 2 * np.pi / count
    reached, former = hub, 0.0
    for number, pitch in enumerate(pitches, 1):
        size = (number, pitch, number - 1)
        if number == 1:
            yield stroke_row(site, size, spots(azimuth, np.full(count, hub)), spots(azimuth, np.full(count, rim)))
            continue
        reached += (former + pitch) / 2
        if reached + pitch > rim:
            raise DesignError("rows", f"fill the wheel: after {number - 2} rounds it reaches the rim")
        yield _round(site, size, (reached, pitch), count)
        former = pitch


def _round(site: Site, size: tuple[int, float, int], grows: tuple[float, float], count: int) -> Row:
    """Once round from beside the first stroke, ``grows[1]`` further out at its end."""
    start, gap = grows
    share = np.arange(count + 1) / count
    # Between two strokes the thread stands further out than where it crosses them, as a polygon's corners do.
    out = np.arctan(np.tan(start + gap * share) / np.cos(np.pi / count))
    way = spots(2 * np.pi * (share - 0.5 / count), out)
    met = spots(2 * np.pi * share[:-1], start + gap * (share[:-1] + 0.5 / count))
    below: Points = met[size[0] % 2 :: 2]
    row = stroke_row(site, size, way[:1], way[-1:], (way[1:-1],))
    return replace(row, beneath=Beneath((1,) * len(below), below, gap / 2))
