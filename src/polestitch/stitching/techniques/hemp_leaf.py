"""Hemp leaf (asa-no-ha): triangles outlined in single strokes, each with three ribs from its corners to its middle.

Round a centre the triangles make a leaf with as many points as there are lines; at a triangle point
there is one triangle with its ribs.  Three sides and three ribs are common practice, no source; the
published orders are centre first, and frame first.  Rows after the first only double the outline.
"""

from collections.abc import Iterable, Iterator
from typing import Annotated, Literal

import numpy as np
from pydantic import BaseModel, Field

from polestitch.document.lengths import Length
from polestitch.errors import DesignError
from polestitch.sphere.arcs import Points, unit
from polestitch.stitching.site import Site
from polestitch.stitching.stitches import Row
from polestitch.stitching.strokes import beside, spots, stroke_row

PLACE = "centre"
EXAMPLE = {"division": "S8", "where": "N", "rows": "1 white", "params": {}}
HOW = (
    "Outer corners stand on the lines: {at}. Set a pin at each.",
    "Work in single straight strokes: come up at one end of a line, lay the thread along it, go in at the other end, "
    "and run the needle under the wrap to where the next stroke begins.",
    "Each triangle gets its sides and three ribs, from its corners to its middle. Ribs meet in one hole.",
)
_Strokes = list[tuple[Points, Points]]


class Params(BaseModel, frozen=True, extra="forbid"):
    """Leaf or single triangle, how large, and in which order."""

    figure: Annotated[
        Literal["leaf", "triangle"],
        Field(description="leaf: triangles all round the centre; triangle: one triangle, its middle at the centre"),
    ] = "leaf"
    triangles: Annotated[int | None, Field(ge=3, le=64, description="Triangles of a leaf; none: one for each line")] = (
        None
    )
    at: Annotated[Length, Field(description="Outer corners, on the guideline")] = Length("2/3 from centre")
    order: Annotated[
        Literal["centre first", "frame first"], Field(description="Which strokes of the row come first")
    ] = "centre first"


def stitch(site: Site, params: Params, pitches: Iterable[float]) -> Iterator[Row]:
    """Row 1 has every stroke once; each later row lies beside its outline."""
    count = 3 if params.figure == "triangle" else params.triangles or site.ways
    if site.ways % count:
        fits = ", ".join(str(k) for k in range(3, site.ways + 1) if site.ways % k == 0) or "none"
        raise DesignError("params.triangles", f"{count} do not divide the {site.ways} lines here; {fits} would")
    index = np.arange(count) * (site.ways // count)
    distance = np.array([site.distance(params.at, int(k), "params.at") for k in index])
    corners = spots(site.azimuths[index], distance)
    inner, outline = (_triangle if params.figure == "triangle" else _leaf)(corners)
    aside, former = 0.0, 0.0
    for number, pitch in enumerate(pitches, 1):
        aside += (former + pitch) / 2 if number > 1 else 0.0
        former = pitch
        strokes = [*inner, *outline] if params.order == "centre first" else [*outline, *inner]
        ups, ends = _stacked(strokes if number == 1 else outline)
        ups, ends = beside(ups, ends, -aside)
        yield stroke_row(site, (number, pitch, number - 1), ups, ends)


def _stacked(strokes: _Strokes) -> tuple[Points, Points]:
    return np.stack([up for up, _ in strokes]), np.stack([end for _, end in strokes])


def _triangle(corners: Points) -> tuple[_Strokes, _Strokes]:
    """Ribs and sides."""
    middle = unit(corners.sum(axis=0))
    sides = [(corners[k], corners[(k + 1) % 3]) for k in range(3)]
    return [(corner, middle) for corner in corners], sides


def _leaf(corners: Points) -> tuple[_Strokes, _Strokes]:
    """What lies inside each triangle of the leaf, and the rim and the sides they share."""
    centre = np.array([0.0, 0.0, 1.0])
    ahead = np.roll(corners, -1, axis=0)
    middles = unit(centre + corners + ahead)
    ribs = [rib for m, a, b in zip(middles, corners, ahead) for rib in ((centre, m), (a, m), (b, m))]
    return ribs, [*zip(corners, ahead), *((centre, a) for a in corners)]
