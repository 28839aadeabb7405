"""Woven spindles: spindles stand across a line, and turns round the ball are woven through their threads.

First every spindle is worked, tip to tip, then the turns along the line, over and under by turns.
The last entries of the row list are the turns, all before them the rounds of every spindle.  Their
number must be odd: a published rule whose reason is not told.  Here the needle takes two threads at a
time, so that an odd number of rounds makes every turn begin and end alike at each spindle.
"""

from collections.abc import Iterable, Iterator
from dataclasses import replace
from typing import Annotated

import numpy as np
from pydantic import BaseModel, Field

from polestitch.document.lengths import BY_ROWS, Length
from polestitch.errors import DesignError
from polestitch.sphere.arcs import move
from polestitch.stitching.paths import Path, growing_along
from polestitch.stitching.site import Site
from polestitch.stitching.stitches import Row
from polestitch.stitching.weaves import turn_beside
from polestitch.stitching.wound import wound_row

PLACE = "circle"
EXAMPLE = {"division": "S8+obi", "where": "obi", "rows": "5 navy, 2 gold", "params": {"turns": 2}}
HOW = (
    "Work all rounds of one spindle before the next: out left of the upper tip, down the right side, turn the ball, "
    "a bite under the line, and back up the other side.",
    "Set both tips a little further out in each round, so that the flanks bow out and the tips stay sharp.",
    "Then wind the turns along the line, eye first: over two threads of a spindle, under two, and so on, "
    "beginning and ending over. Let the next turn begin and end under, and so by turns.",
)
TAKEN = 2  # threads the needle takes at a time


class Params(BaseModel, frozen=True, extra="forbid"):
    """How long the spindles are, and how many turns are woven through them."""

    height: Annotated[Length, Field(description="From the line to the first tips, each side")] = Length("20 mm")
    turns: Annotated[
        int, Field(ge=1, le=60, description="How many of the last rows are woven turns", json_schema_extra=BY_ROWS)
    ] = 3
    spindles: Annotated[
        int | None, Field(ge=2, le=64, description="How many spindles; none: one on each line that crosses")
    ] = None


def marks(rounds: int, turn: int) -> str:
    """How a turn takes the threads of one spindle, one after the other."""
    return "".join(("ou"[(group + turn) % 2]) * TAKEN for group in range(rounds))


def stitch(site: Site, params: Params, pitches: Iterable[float]) -> Iterator[Row]:
    """Every spindle's rounds, then the turns."""
    widths = list(pitches)
    rounds = len(widths) - params.turns
    if rounds < 1 or rounds % 2 == 0:
        odd = f"take {max(1, rounds - 1)} or {max(1, rounds) + 1 + (rounds < 1)} before them"
        raise DesignError(
            "rows", f"has {max(rounds, 0)} rounds before the {params.turns} turns, which must be odd; {odd}"
        )
    count = params.spindles or site.ways
    if count < 2 or (params.spindles and params.spindles > site.ways > 0 and params.spindles % site.ways):
        raise DesignError("params.spindles", f"{count} spindles do not divide evenly over the {site.ways} lines here")
    azimuths = site.azimuths if params.spindles is None else np.arange(count) * 2 * np.pi / count
    number = 0
    for k, azimuth in enumerate(azimuths.tolist()):
        for row in growing_along(_spindle(azimuth, site, params, k), widths[:rounds], site):
            number += 1
            yield replace(row, number=number, strand=k)
    middle = (azimuths[0] + azimuths[1]) / 2
    start = np.array([np.cos(middle), np.sin(middle), 0.0])
    offs = _offsets(widths[rounds:])
    for k, off in enumerate(offs):
        turn = turn_beside(np.array([0.0, 0.0, 1.0]), start, off)
        yield wound_row(turn, (number + k + 1, rounds + k), widths[rounds + k], under=(marks(rounds, k),))


def _offsets(widths: list[float]) -> list[float]:
    """How far above the line each turn's middle lies; all of them together are centred on it."""
    edges = np.cumsum([0.0, *widths])
    middles = (edges[:-1] + edges[1:]) / 2 - edges[-1] / 2
    return [float(off) for off in middles[::-1]]


def _spindle(azimuth: float, site: Site, params: Params, k: int) -> Path:
    height = site.width(params.height, "params.height")
    if not 0 < height < 1.5:
        raise DesignError("params.height", "lies off the guideline; tips stand between the line and its poles")
    foot, up = np.array([np.cos(azimuth), np.sin(azimuth), 0.0]), np.array([0.0, 0.0, 1.0])
    places = np.stack([move(foot, up, height), move(foot, -up, height)])
    outward = np.stack([move(up, -foot, height), move(-up, -foot, height)])
    right = np.array([-np.sin(azimuth), np.cos(azimuth), 0.0])
    return Path(
        places=places,
        outward=outward,
        travel=np.stack([right, -right]),
        spokes=(k + 1, k + 1),
        steps=np.ones(2, dtype=bool),
        wide=np.zeros(2, dtype=bool),
    )
