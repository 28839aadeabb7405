"""Rose (bara, masu-gasane): polygons on two sets of lines by turns, each just outside the one before.

A few rows on the first set from a tight centre, a few on the second with the first bites just outside
the former sides, and so on outward.  A figure of k corners needs 2k lines.
"""

from collections.abc import Iterable, Iterator
from dataclasses import replace
from itertools import count, islice
from typing import Annotated

import numpy as np
from pydantic import BaseModel, Field

from polestitch.document.lengths import BY_ROWS, Length
from polestitch.errors import DesignError
from polestitch.sphere.arcs import cross
from polestitch.stitching.moves import Corners, Floats, growing
from polestitch.stitching.site import Site
from polestitch.stitching.stitches import Row

PLACE = "centre"
EXAMPLE = {"division": "S8", "where": "N", "rows": "4 navy, 4 white, 4 gold", "params": {"rows_each": [4]}}
# Nearer than this to the centre a row has no room for its bites (radians).
_TIGHT = 1e-4


class Params(BaseModel, frozen=True, extra="forbid"):
    """How many corners, where the first row stands, and after how many rows the lines change."""

    corners: Annotated[int, Field(ge=3, le=32, description="Corners of each figure; it needs twice as many lines")] = 4
    at: Annotated[Length, Field(description="Corners of the first row, on the guideline")] = Length("3 mm")
    rows_each: Annotated[
        tuple[Annotated[int, Field(ge=1, le=64)], ...],
        Field(
            min_length=1,
            max_length=64,
            description="Rows of each figure in turn; the last number goes on",
            json_schema_extra=BY_ROWS,
        ),
    ] = (4,)
    inside: Annotated[
        int, Field(ge=0, le=8, description="Rows the next figure starts inside the former one's side; 0: just outside")
    ] = 0


def stitch(site: Site, params: Params, pitches: Iterable[float]) -> Iterator[Row]:
    """Figure after figure, each a strand of its own; one lap a row."""
    lines = 2 * params.corners
    if site.ways % lines:
        fits = ", ".join(str(k) for k in range(3, site.ways + 1) if site.ways % (2 * k) == 0) or "none"
        words = f"{params.corners} need {lines} lines, which do not divide the {site.ways} lines here; {fits} would"
        raise DesignError("params.corners", words)
    index = np.arange(lines) * (site.ways // lines)
    distance = np.array([site.distance(params.at, int(k), "params.at") for k in index[::2]])
    left, done, rows = iter(pitches), 0, list[Row]()
    for figure in count():
        widths = list(islice(left, params.rows_each[min(figure, len(params.rows_each) - 1)]))
        if not widths:
            return
        chosen = index[figure % 2 :: 2]
        if rows:
            distance = _outside(site.azimuths[chosen], rows[-1], (rows[-1].pitch + widths[0]) / 2, params.inside)
        corners = Corners(site.azimuths[chosen], distance, tuple(site.numbers[k] for k in chosen))
        rows = [
            replace(row, number=done + row.number, plan=done + row.plan, strand=figure)
            for row in growing(corners, widths, site)
        ]
        done += len(rows)
        yield from rows


def _outside(azimuth: Floats, row: Row, gap: float, inside: int) -> Floats:
    """(k,) distances at which lines at ``azimuth`` meet the sides of ``row``, and one thread further.

    Side and guideline are great circles: they meet where both normals' product points.
    """
    normal = np.stack([-np.sin(azimuth), np.cos(azimuth), np.zeros_like(azimuth)], axis=1)
    ahead = np.stack([np.cos(azimuth), np.sin(azimuth), np.zeros_like(azimuth)], axis=1)
    sides = cross(row.places, np.roll(row.places, -1, axis=0))
    met = []
    for line, way in zip(normal, ahead):
        spots = cross(sides, line[None])
        spots = spots * np.sign(spots @ way)[:, None]
        met.append(float(np.arctan2(spots @ way, spots[:, 2]).min()))
    return np.maximum(np.array(met) + (1 - inside) * gap, _TIGHT)
