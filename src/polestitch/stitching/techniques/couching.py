"""Couched line: a thread laid along a line, straight or bowed, and held by small stitches across it.

Rows go in pairs: first the thread that is laid, then the stitches that hold it, which may be finer
and of another colour.  A next pair lies beside the former one.
"""

from collections.abc import Iterable, Iterator
from typing import Annotated

import numpy as np
from pydantic import BaseModel, Field

from polestitch.document.lengths import BY_HAND, Length
from polestitch.errors import DesignError
from polestitch.sphere.arcs import Points
from polestitch.stitching.moves import Floats
from polestitch.stitching.site import Site
from polestitch.stitching.stitches import Row
from polestitch.stitching.strokes import stroke_row

PLACE = "arc"
EXAMPLE = {"division": "S8", "where": "line 1", "rows": "1 gold, 1 navy", "params": {"bow": "6 mm"}}
HOW = (
    "Rows go in pairs. The first lays the thread: come up at one end of the line, lead it along its way, "
    "and go in at the other end.",
    "The second holds it with small stitches across, {every} apart: come up close beside it, go over it, "
    "and go in close on the other side.",
    "Where the way is bowed, let the stitches set the curve one after another from the first end on.",
)


class Params(BaseModel, frozen=True, extra="forbid"):
    """Where the laid thread begins and ends, how it bows, and how it is held."""

    at: Annotated[Length, Field(description="Where it begins and ends, on the line")] = Length("5 mm from edge")
    bow: Annotated[Length, Field(description="How far its middle lies to one side of the line")] = Length("0 mm")
    every: Annotated[Length, Field(description="From one holding stitch to the next")] = Length("8 mm")
    across: Annotated[Length, Field(description="Length of a holding stitch", json_schema_extra=BY_HAND)] = Length(
        "2 mm"
    )


def stitch(site: Site, params: Params, pitches: Iterable[float]) -> Iterator[Row]:
    """Laid threads in odd rows, holding stitches in even ones."""
    ends = [site.distance(params.at, k, "params.at") for k in range(2)]
    bow, across = site.width(params.bow, "params.bow"), site.width(params.across, "params.across")
    every = site.width(params.every, "params.every")
    if not 0 < every < sum(ends) / 2:
        raise DesignError("params.every", "must be more than nothing and less than half of the laid thread")
    count = round(sum(ends) / every)
    share = (np.arange(count - 1) + 1) / count
    aside, last = 0.0, 0.0
    for number, pitch in enumerate(pitches, 1):
        size = (number, pitch, number - 1)
        if number % 2:
            aside, last = aside + ((last + pitch) / 2 if last else 0.0), pitch
            way = _way(ends, np.concatenate([[0.0], share, [1.0]]), bow, aside)
            via = (way[1:-1] if bow or aside else way[:0],)
            yield stroke_row(site, size, way[:1], way[-1:], via)
        else:
            left, right = (_way(ends, share, bow, aside + side * across / 2) for side in (1.0, -1.0))
            yield stroke_row(site, size, left, right)


def _way(ends: list[float], share: Floats, bow: float, aside: float) -> Points:
    """(n, 3) places at shares of the way from the first end to the second, ``aside`` to the bow's side."""
    along = ends[0] - share * sum(ends)
    off = bow * np.sin(np.pi * share) + aside
    return np.stack([np.cos(off) * np.sin(along), np.sin(off), np.cos(off) * np.cos(along)], axis=1)
