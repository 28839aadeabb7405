"""Basket weave (kagome): strands go round the whole ball in several directions and over and under by turns.

Each direction has its strands round the ball between two points that lie opposite; where strands of
several directions enclose a spot an eye stays open.  A row of the list is one thread of every
strand.  Turn each crossing so that its wide angle faces you: the upper thread then always runs the
same way.  The page that tells this breaks off before it says which way; ``lead`` chooses it.
"""

from collections.abc import Iterable, Iterator, Mapping
from typing import Annotated, Literal

import numpy as np
from pydantic import BaseModel, Field

from polestitch.document.lengths import Length
from polestitch.errors import DesignError
from polestitch.sphere.arcs import Points, cross, unit
from polestitch.stitching.site import Site
from polestitch.stitching.stitches import Row
from polestitch.stitching.weaves import Threads, beneath, crossed, second_below, turn_beside
from polestitch.stitching.wound import wound_row

PLACE = "ball"
EXAMPLE = {"division": "C10", "where": "ball", "rows": "1 navy, 1 white, 1 navy", "params": {}}
HOW = (
    "Wind the strands of one direction, then those of the next, each round the ball midway between its two points.",
    "From the second strand on, go over and under what is there by turns, a whole strand at a time, eye first.",
    "Check a ball of single strands: turn a crossing so that its wide angle faces you. The upper strand must run the "
    "same way at every one.",
    "Start and end each strand under another one, so that no start can be found.",
)
_OPPOSITE = 1e-6


class Params(BaseModel, frozen=True, extra="forbid"):
    """Which directions, how many strands in each, and how far apart."""

    around: Annotated[
        Literal["centres", "triangles", "diamonds"],
        Field(description="Each direction goes round the ball midway between two opposite points of this kind"),
    ] = "centres"
    strands: Annotated[int, Field(ge=1, le=40, description="Strands in each direction")] = 1
    apart: Annotated[Length, Field(description="From strand to strand of one direction")] = Length("10 mm")
    lead: Annotated[
        Literal["left", "right"],
        Field(description="Which way the upper strand runs where the first two meet; no page says which is usual"),
    ] = "left"


def stitch(site: Site, params: Params, pitches: Iterable[float]) -> Iterator[Row]:
    """Strand after strand, thread after thread."""
    widths, axes = list(pitches), _axes(site.points, params.around)
    threads, middle = _threads(site, params, widths, axes)
    count = len(widths)
    for n in range(len(threads.offset)):
        strand = n // count
        axis = axes[strand // params.strands]
        turn = turn_beside(axis, _start(axis), float(np.arcsin(threads.offset[n])))
        under = _unders(threads, middle, n, (count, params))
        yield wound_row(turn, (n + 1, n % count), widths[n % count], beneath=beneath(under))


def _axes(points: Mapping[str, Points], around: str) -> Points:
    """One of each two opposite points of the kind, (d, 3)."""
    kind = around.removesuffix("s")
    known = [at for name, at in points.items() if name.startswith(kind) or (kind == "centre" and name in {"N", "S"})]
    if kind == "centre" and len(known) <= 2:
        known += [at for name, at in points.items() if name.startswith("obi")][: 4 if len(points) == 6 else 0]
    axes: list[Points] = []
    for at in known:
        if all(abs(float(at @ axis)) < 1 - _OPPOSITE for axis in axes):
            axes.append(at)
    if len(axes) < 2:
        raise DesignError(
            "params.around", f"{around} do not divide the ball into directions here; take C4, C6, C8 or C10"
        )
    return np.array(axes)


def _threads(site: Site, params: Params, widths: list[float], axes: Points) -> tuple[Threads, Threads]:
    """Every thread, and the middle line of every strand, direction after direction."""
    apart = site.width(params.apart, "params.apart")
    if params.strands > 1 and apart < sum(widths):
        raise DesignError("params.apart", "is less than a strand is wide; set the strands further apart")
    if apart * (params.strands - 1) + sum(widths) > 2.6:
        raise DesignError("params.strands", "are so many that they run over the points they go round; take fewer")
    strands = (np.arange(params.strands) - (params.strands - 1) / 2) * apart
    edges = np.cumsum([0.0, *widths]) - sum(widths) / 2
    inside = (edges[:-1] + edges[1:]) / 2
    offs = np.sin((strands[:, None] + inside[None]).ravel())
    every = Threads(np.repeat(axes, len(offs), axis=0), np.tile(offs, len(axes)))
    return every, Threads(np.repeat(axes, len(strands), axis=0), np.tile(np.sin(strands), len(axes)))


def _start(axis: Points) -> Points:
    """A place on the great circle about ``axis``, for each direction another one so that starts lie apart."""
    aside = np.array([0.36, 0.48, 0.8])  # a direction that is none of any division's
    return unit(cross(axis, aside))


def _unders(threads: Threads, middle: Threads, n: int, made: tuple[int, Params]) -> list[tuple[int, Points]]:
    """The earlier threads that thread ``n`` goes under, and where.

    Strands are woven as wholes: who lies on top is told by the crossing of their middle lines.
    """
    count, params = made
    own = n // count
    found = []
    for other in range(own // params.strands * params.strands):
        spots = crossed(_one(middle, other), _one(middle, own))[0]
        if np.isnan(spots).any():
            continue
        below = second_below(middle, (other, own), spots, "params.apart") != (params.lead == "right")
        for k in range(other * count, (other + 1) * count):
            places = crossed(_one(threads, k), _one(threads, n))[0]
            found += [(k + 1, at) for at, under in zip(places, below) if under and not np.isnan(at).any()]
    return found


def _one(threads: Threads, n: int) -> Threads:
    return Threads(threads.normal[n : n + 1], threads.offset[n : n + 1])
