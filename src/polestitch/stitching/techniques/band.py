"""Wrapped band (maki): the thread is wound round the ball, turn beside turn along a line.

First all turns on one side of the line, from the line outward, then all on the other; ``rows``
counts the turns of one side.  A band may also lie parallel to its line.
"""

from collections.abc import Iterable, Iterator
from itertools import count
from typing import Annotated, Literal

import numpy as np
from pydantic import BaseModel, Field

from polestitch.document.lengths import Length
from polestitch.errors import DesignError
from polestitch.stitching.site import Site
from polestitch.stitching.stitches import Row, Turn

PLACE = "circle"
EXAMPLE = {"division": "S8+obi", "where": "obi", "rows": "3 navy, 1 gold", "params": {}}


class Params(BaseModel, frozen=True, extra="forbid"):
    """On which side of the line the turns lie, and how far off the circle that line is."""

    side: Annotated[
        Literal["both", "left", "right"],
        Field(description="both: half of the band each side; left is toward the circle's own pole (N for the obi)"),
    ] = "both"
    first: Annotated[
        Literal["beside", "on"], Field(description="First turn beside the line, or on the line itself")
    ] = "beside"
    off: Annotated[Length, Field(description="How far from the circle the band's line lies, parallel to it")] = Length(
        "0 mm"
    )
    toward: Annotated[Literal["left", "right"], Field(description="On which side of the circle it lies")] = "left"


def stitch(site: Site, params: Params, pitches: Iterable[float]) -> Iterator[Row]:
    """One turn for each pitch on the left of the line, then the same on the right."""
    off = site.width(params.off, "params.off")
    line = off if params.toward == "left" else -off
    widths = list(pitches)
    numbers = count(1)
    for nth, side in enumerate(_SIDES[params.side]):
        for k, aside in enumerate(_asides(widths, params.first)):
            if params.first == "beside" or nth == 0 or k > 0:
                yield _turn((next(numbers), k), widths[k], line + side * aside)


_SIDES = {"both": (1.0, -1.0), "left": (1.0,), "right": (-1.0,)}


def _asides(widths: list[float], first: str) -> list[float]:
    """Distance of each turn's middle from the line."""
    edges = [sum(widths[:k]) + width / 2 for k, width in enumerate(widths)]
    shift = widths[0] / 2 if first == "on" and widths else 0.0
    return [edge - shift for edge in edges]


def _turn(place: tuple[int, int], pitch: float, latitude: float) -> Row:
    if abs(latitude) > 1.5:
        raise DesignError("rows", "are so many that the band runs over its own pole; take fewer turns")
    none = np.zeros((0, 3))
    start = np.array([np.cos(latitude), 0.0, np.sin(latitude)])
    turn = Turn(normal=np.array([0.0, 0.0, 1.0]), offset=float(np.sin(latitude)), start=start)
    empty = np.zeros(0)
    no = np.zeros(0, dtype=bool)
    return Row(place[0], pitch, none, none, empty, none, empty, no, no, (), 1, turn, plan=place[1])
