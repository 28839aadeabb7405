"""Cube weave: bands in three directions, woven so that the ball seems built of cubes.

No lines are needed, only pairs of keeper pins where the lines of a division into six cross the obi.
Each direction goes through two of the pairs that lie opposite.  Each band goes over one band of the
next direction and under two, so that one colour shows in every diamond: three diamonds make a cube.
The first row of the list is the first direction's colour, the next the second's, then the third's.
The page behind it gives the bands and their threads, not whether it counts them for each direction
or for all three: here they are those of each direction, as many as fit between the pins.
"""

from collections.abc import Iterable, Iterator
from typing import Annotated

import numpy as np
from pydantic import BaseModel, Field

from polestitch.document.lengths import BY_ROWS
from polestitch.errors import DesignError
from polestitch.sphere.arcs import cross
from polestitch.stitching.site import Site
from polestitch.stitching.stitches import Beneath, Row
from polestitch.stitching.weaves import turn_beside
from polestitch.stitching.wound import wound_row

PLACE = "ball"
EXAMPLE = {
    "division": "S6",
    "where": "ball",
    "rows": "1 white, 1 gold, 1 navy",
    "params": {"bands": 4, "threads": 6},
}
HOW = (
    "Set a pair of keeper pins at each of the six spots on the obi, as far apart as one direction is wide.",
    "Wind each band from one thread: cut it as long as its turns, and a hand's width more.",
    "First direction: wind all its bands side by side through two opposite pairs of pins, past both poles.",
    "Second direction: number the bands. Pass each under every third band of the first, one band further on each time, "
    "and over the two between.",
    "Third direction: each band goes over one band of the first and under the next two, and under one band of the "
    "second and over the next two, one band further on each time.",
    "Pass the needle below, eye first, a whole band at a time.",
)
DIRECTIONS = 3


class Params(BaseModel, frozen=True, extra="forbid"):
    """How many bands each direction has, and of how many threads each."""

    bands: Annotated[
        int, Field(ge=2, le=60, multiple_of=2, description="Bands in each direction, an even number: 12, or 8 of 8")
    ] = 12
    threads: Annotated[int, Field(ge=1, le=40, description="Threads in each band", json_schema_extra=BY_ROWS)] = 6
    lined_up: Annotated[
        bool,
        Field(
            description="Bands a little further apart toward the sides, so that the edges of the cubes meet; "
            "otherwise side by side"
        ),
    ] = True


def beneath_bands(direction: int, band: int, params: Params) -> Beneath | None:
    """The earlier turns a band goes under, wherever it meets them.

    Counted along the three directions, band i lies over band j of the next direction where i - j is a
    multiple of three.  Where three meet, just one of the three pairs has that, so no ring arises.
    """
    under = [
        (earlier, k)
        for earlier in range(direction)
        for k in range(params.bands)
        if _below((direction, band), (earlier, k))
    ]
    first = [earlier * params.bands * params.threads + k * params.threads for earlier, k in under]
    rows = tuple(start + n + 1 for start in first for n in range(params.threads))
    return Beneath(rows) if rows else None


def stitch(site: Site, params: Params, pitches: Iterable[float]) -> Iterator[Row]:
    """All turns of the first direction, then of the second, then of the third."""
    widths = list(pitches)
    if site.ways % (2 * DIRECTIONS):
        raise DesignError("where", f"needs six lines: 6 does not divide the {site.ways} lines round N")
    if len(widths) > DIRECTIONS:
        raise DesignError("rows", "has more than three entries; name one colour for each of the three directions")
    number = 0
    for direction, pitch in enumerate(widths):
        angle = site.azimuths[0] + direction * 2 * np.pi / DIRECTIONS
        normal = np.array([np.cos(angle), np.sin(angle), 0.0])
        start = cross(np.array([0.0, 0.0, 1.0]), normal)
        for band in range(params.bands):
            plan = beneath_bands(direction, band, params)
            for off in _offsets(band, params, pitch):
                number += 1
                turn = turn_beside(normal, start, off)
                yield wound_row(turn, (number, direction), pitch, beneath=plan)


def _offsets(band: int, params: Params, pitch: float) -> list[float]:
    """How far each thread of a band lies from the great circle through the pins."""
    width, first = params.threads * pitch, band - params.bands // 2
    if params.bands * width > 2.6 or abs(np.sin(width)) * params.bands / 2 > 1:
        raise DesignError("params.bands", "are so many that they reach the pins of the next direction; take fewer")
    middle = (first + 0.5) * width
    if params.lined_up:
        # Edges that lie evenly as seen from above the pole meet three at a point all over the ball.
        middle = float(np.arcsin(np.sin(width) * first) + np.arcsin(np.sin(width) * (first + 1))) / 2
    return [middle + (k + 0.5 - params.threads / 2) * pitch for k in range(params.threads)]


def _below(own: tuple[int, int], other: tuple[int, int]) -> bool:
    """Whether band ``own`` (direction, band) goes under ``other``, of an earlier direction."""
    following = (own[0] - other[0]) % DIRECTIONS == 1  # own is the direction next to the other's
    over = (own[1] - other[1]) % DIRECTIONS == 0
    return over if following else not over
