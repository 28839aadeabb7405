"""Ring-thimble zigzag (yubinuki): zigzags from edge to edge of a band, each row beside the former one.

Several needles start on different marks and take their rows in turn.  A row counts when its start is
reached again, which takes as many laps as marks and step demand.  Row by row the zigzags move along
the line until each needle reaches the start of the next, and the band is covered.
"""

from collections.abc import Iterable, Iterator
from dataclasses import replace
from math import gcd, lcm
from typing import Annotated

import numpy as np
from pydantic import BaseModel, Field

from polestitch.document.lengths import Length
from polestitch.errors import DesignError
from polestitch.sphere.arcs import cross, unit
from polestitch.stitching.moves import Corners, growing, station
from polestitch.stitching.site import Site
from polestitch.stitching.stitches import Row

PLACE = "circle"
EXAMPLE = {
    "division": "S8+obi",
    "where": "obi",
    "rows": "2 navy, 2 gold",
    "params": {"height": "6 mm", "marks": 16, "needles": 2},
}
HOW = (
    "Each needle keeps to its own rows. Let it wait on its thread while the others work their row.",
    "From row to row every bite moves on along the edge by one thread, always the same way. "
    "A row counts when you are back at its start.",
)
_FEWEST = 4


class Params(BaseModel, frozen=True, extra="forbid"):
    """How wide the band is, how it is divided, and how many needles work it."""

    height: Annotated[Length, Field(description="From the line to the bites, each side")] = Length("5 mm")
    marks: Annotated[
        int | None, Field(ge=4, le=400, description="Marks along each edge; none: one for each crossing of the line")
    ] = None
    step: Annotated[int, Field(ge=1, le=100, description="Marks from a bite to the next on the other edge")] = 1
    needles: Annotated[int, Field(ge=1, le=64, description="Needles, each started on a mark of its own")] = 1


def stitch(site: Site, params: Params, pitches: Iterable[float]) -> Iterator[Row]:
    """One row for each needle and pitch."""
    marks = site.ways if params.marks is None else params.marks
    if marks < _FEWEST or 3 * params.step > marks:
        raise DesignError("params.marks", f"{marks} are too few for that step; divide the line into more")
    share = gcd(2 * params.step, marks)
    if share % params.needles:
        fits = ", ".join(str(k) for k in range(1, share + 1) if share % k == 0)
        raise DesignError("params.needles", f"{params.needles} do not divide the {share} sets of marks; {fits} would")
    height = site.width(params.height, "params.height")
    zigzags = [_zigzag(marks, params.step, k * share // params.needles, height) for k in range(params.needles)]
    room = 2 * np.pi / marks * (share // params.needles)
    moved, former, number = 0.0, 0.0, 0
    for plan, pitch in enumerate(pitches):
        moved += _along(zigzags[0], (former + pitch) / 2) if plan else 0.0
        former = pitch
        if moved > room:
            raise DesignError("rows", f"divide the band into {plan} rows at most: then each needle meets the next")
        for zigzag in zigzags:
            number += 1
            here = replace(zigzag, azimuth=zigzag.azimuth + moved)
            (row,) = growing(here, [pitch], site)
            yield replace(row, number=number, plan=plan, strand=number)


def _zigzag(marks: int, step: int, start: int, height: float) -> Corners:
    count = lcm(2, lcm(marks, step) // step)
    index = (start + np.arange(count) * step) % marks
    above = np.arange(count) % 2 == 0
    return Corners(
        azimuth=index * 2 * np.pi / marks,
        distance=np.where(above, np.pi / 2 - height, np.pi / 2 + height),
        spokes=tuple((index + 1).tolist()),
        laps=count * step // marks,
        way=np.where(above, -1.0, 1.0),
    )


def _along(zigzag: Corners, gap: float) -> float:
    """Radians round the circle that put the next thread ``gap`` beside the former one where it crosses the line.

    There a leg with normal n, turned by a about the circle's pole, is off by sin(gap) = |n's level part| sin(a).
    """
    places = station(zigzag.azimuth, zigzag.distance)[0]
    normal = unit(cross(places[0], places[1]))
    return float(np.arcsin(min(1.0, np.sin(gap) / float(np.hypot(normal[0], normal[1])))))
