"""Polygon: a square, triangle, pentagon or any other figure, row beside row round a centre.

Worked outward it grows from its first row; worked inward it fills the outline.  Corners stand on
every second, third … guideline, so their number must divide the guidelines there are.
"""

from collections.abc import Iterable, Iterator
from dataclasses import replace
from itertools import count, islice
from typing import Annotated, Literal

import numpy as np
from numpy.typing import NDArray
from pydantic import BaseModel, Field

from polestitch.document.lengths import BY_ROWS, Length
from polestitch.errors import DesignError
from polestitch.stitching.moves import Corners, Floats, growing
from polestitch.stitching.site import Site
from polestitch.stitching.stitches import Row

_TIGHT = 1e-4  # radians: nearer to the centre a corner has no room
PLACE = "centre"
EXAMPLE = {"division": "S8", "where": "N", "rows": "3 navy, 2 white", "params": {"corners": 4, "at": "10 mm"}}


class Params(BaseModel, frozen=True, extra="forbid"):
    """How many corners, where the first row's stand, and which way later rows go."""

    corners: Annotated[int, Field(ge=3, le=64, description="Corners of the figure")] = 4
    at: Annotated[Length, Field(description="Corners of the first row, on the guideline")] = Length("1/3 from centre")
    grow: Annotated[Literal["outward", "inward"], Field(description="Where the next row goes")] = "outward"
    turn: Annotated[
        Literal["on the lines", "half a line"],
        Field(description="half a line: offset, its corners in the middle between two lines"),
    ] = "on the lines"
    rows_each: Annotated[
        int | None,
        Field(
            ge=1,
            le=200,
            description="Rows of each of several concentric figures; none: one figure",
            json_schema_extra=BY_ROWS,
        ),
    ] = None
    apart: Annotated[Length, Field(description="From corner to corner of one concentric figure and the next")] = Length(
        "5 mm"
    )


def stitch(site: Site, params: Params, pitches: Iterable[float]) -> Iterator[Row]:
    """Rows of ``corners`` bites each, one lap a row."""
    if site.ways % params.corners:
        fits = ", ".join(str(k) for k in range(3, site.ways + 1) if site.ways % k == 0) or "none"
        raise DesignError("params.corners", f"{params.corners} do not divide the {site.ways} lines here; {fits} would")
    way = 1.0 if params.grow == "outward" else -1.0
    index = np.arange(params.corners) * (site.ways // params.corners)
    corners = Corners(
        azimuth=_turned(site, index, params.turn),
        distance=np.array([site.distance(params.at, int(k), "params.at") for k in index]),
        spokes=tuple(site.numbers[k] for k in index),
        way=np.full(params.corners, way),
    )
    if params.rows_each is None:
        return growing(corners, pitches, site)
    return _concentric(corners, pitches, site, (params.rows_each, way * site.width(params.apart, "params.apart")))


def _turned(site: Site, index: NDArray[np.int_], turn: str) -> Floats:
    """(k,) azimuths of the corners: their guidelines', or half way to the next guideline's."""
    here = site.azimuths[index]
    ahead = np.mod(np.roll(site.azimuths, -1)[index] - here, 2 * np.pi)
    return np.asarray(here + ahead / 2 if turn == "half a line" else here)


def _concentric(corners: Corners, pitches: Iterable[float], site: Site, sets: tuple[int, float]) -> Iterator[Row]:
    """Figure after figure, each a strand of its own that starts ``sets[1]`` from where the one before ended."""
    left, done = iter(pitches), 0
    for figure in count():
        rows = [
            replace(row, number=done + row.number, plan=done + row.plan, strand=figure)
            for row in growing(corners, islice(left, sets[0]), site)
        ]
        if not rows:
            return
        yield from rows
        done += len(rows)
        places = rows[-1].places
        last = np.arctan2(np.hypot(places[:, 0], places[:, 1]), places[:, 2])
        corners = replace(corners, distance=np.maximum(last + sets[1], _TIGHT))
