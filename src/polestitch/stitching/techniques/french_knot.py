"""French knots: small coiled knots, one in the centre or a ring of them, counted one by one.

The thread is wound round the needle and drawn down to a bead.  Each row is one ring of knots.
"""

from collections.abc import Iterable, Iterator
from typing import Annotated

import numpy as np
from pydantic import BaseModel, Field

from polestitch.document.lengths import Length
from polestitch.sphere.arcs import Points, cross, move, unit
from polestitch.stitching.site import Site
from polestitch.stitching.stitches import Row
from polestitch.stitching.strokes import spots, stroke_row

PLACE = "centre"
EXAMPLE = {"division": "S8", "where": "N", "rows": "1 gold", "params": {"knots": 8}}
HOW = (
    "For each knot come up at its place, turn the thread round the needle (turns: {windings}), and go in close by. "
    "Hold the coil down with your thumb while you draw the thread through.",
)
_ROUND = 8  # places a coil is led through in one winding


class Params(BaseModel, frozen=True, extra="forbid"):
    """How many knots, where they sit, and how thick they are."""

    knots: Annotated[int, Field(ge=1, le=200, description="Knots in the first ring; 1: one in the centre")] = 1
    at: Annotated[Length, Field(description="Where a ring of knots lies, from the centre")] = Length("6 mm")
    apart: Annotated[Length, Field(description="From one row's ring to the next")] = Length("3 mm")
    windings: Annotated[int, Field(ge=1, le=4, description="How often the thread goes round the needle")] = 2


def stitch(site: Site, params: Params, pitches: Iterable[float]) -> Iterator[Row]:
    """One ring of knots for each pitch; after a single knot in the centre, rings of six, twelve and so on."""
    apart = site.width(params.apart, "params.apart")
    first = 0.0 if params.knots == 1 else site.distance(params.at, 0, "params.at")
    for number, pitch in enumerate(pitches, 1):
        far = first + (number - 1) * apart
        count = 6 * (number - 1) if params.knots == 1 and number > 1 else params.knots
        azimuth = np.arange(count) * 2 * np.pi / count
        coils = [_coil(place, pitch, params.windings) for place in spots(azimuth, np.full(count, far))]
        ups, ends = np.stack([coil[0] for coil in coils]), np.stack([coil[-1] for coil in coils])
        via = tuple(coil[1:-1] for coil in coils)
        yield stroke_row(site, (number, pitch, number - 1), ups, ends, via)


def _coil(middle: Points, pitch: float, windings: int) -> Points:
    """(n, 3) along a spiral about ``middle``, one thread from winding to winding."""
    axis = np.eye(3)[int(np.argmin(np.abs(middle)))]
    right = unit(cross(axis, middle))
    up = cross(middle, right)
    turned = np.linspace(0, 2 * np.pi * windings, _ROUND * windings + 1)[:, None]
    radius = pitch * (windings + 0.3 - turned[:, 0] / (2 * np.pi)) / 2
    return move(middle, np.cos(turned) * right + np.sin(turned) * up, radius)
