"""Pine needle (matsuba): straight single strokes spread from a centre, as a fan or all the way round.

Usually the last touch, in metallic thread.  Each stroke comes up near the centre and goes in at its
tip; later rows put their strokes between those that are there.
"""

from collections.abc import Iterable, Iterator
from typing import Annotated

import numpy as np
from pydantic import BaseModel, Field

from polestitch.document.lengths import Length
from polestitch.errors import DesignError
from polestitch.stitching.moves import Floats
from polestitch.stitching.site import Site
from polestitch.stitching.stitches import Row
from polestitch.stitching.strokes import spots, stroke_row

PLACE = "centre"
EXAMPLE = {"division": "S8", "where": "N", "rows": "1 gold", "params": {"strokes": 16}}
HOW = (
    "Work in single straight strokes: come up near the centre, lay the thread outward, go in at the tip, "
    "and run the needle under the wrap back to the centre for the next.",
    "Spread the strokes evenly, and draw each just snug: a tight one sinks, a slack one catches.",
)


class Params(BaseModel, frozen=True, extra="forbid"):
    """How many strokes, how wide they spread, from where to where."""

    strokes: Annotated[int | None, Field(ge=2, le=200, description="Strokes in one row; none: one for each line")] = (
        None
    )
    inner: Annotated[Length, Field(description="Where the strokes come up, from the centre")] = Length("2 mm")
    outer: Annotated[Length, Field(description="Where they go in, from the centre")] = Length("10 mm")
    fan: Annotated[
        float, Field(gt=0, le=360, description="How wide they spread, in degrees, about the start line; 360: all round")
    ] = 360.0


def stitch(site: Site, params: Params, pitches: Iterable[float]) -> Iterator[Row]:
    """One row of strokes for each pitch."""
    count = site.ways if params.strokes is None else params.strokes
    inner = site.distance(params.inner, 0, "params.inner")
    outer = site.distance(params.outer, 0, "params.outer")
    if outer <= inner:
        raise DesignError("params.outer", "must lie further from the centre than where the strokes come up")
    for number, pitch in enumerate(pitches, 1):
        azimuth = _azimuths(count, np.radians(params.fan), _share(number - 1))
        ups, ends = spots(azimuth, np.full(count, inner)), spots(azimuth, np.full(count, outer))
        yield stroke_row(site, (number, pitch, number - 1), ups, ends)


def _azimuths(count: int, fan: float, share: float) -> Floats:
    """(count,) directions; ``share`` of a gap further on."""
    whole = fan > 2 * np.pi - 1e-9
    gap = fan / count if whole else fan / (count - 1)
    return np.asarray((0.0 if whole else -fan / 2) + gap * (np.arange(count) + share))


def _share(k: int) -> float:
    """0, 1/2, 1/4, 3/4, 1/8 …: each further row as far from the others as can be (van der Corput)."""
    share, part = 0.0, 0.5
    while k:
        share, part, k = share + part * (k % 2), part / 2, k // 2
    return share
