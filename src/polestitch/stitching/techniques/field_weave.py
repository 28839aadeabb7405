"""Field weave (yotsume, mutsume, yatsume): a figure is filled with threads that go over and under by turns.

Two directions leave square eyes (yotsume), three six-sided ones (mutsume), four eight-sided ones
(yatsume).  A row of the list is one whole direction, its threads side by side with a gap; each
thread runs from edge to edge, and under the wrap along the edge to where the next one begins.  The
first direction runs from a corner through the centre, as to the middle of the side opposite.
"""

from collections.abc import Iterable, Iterator
from dataclasses import replace
from typing import Annotated, Literal, NamedTuple

import numpy as np
from pydantic import BaseModel, Field

from polestitch.document.lengths import Length
from polestitch.errors import DesignError
from polestitch.sphere.arcs import Points, arc_angle, cross, unit
from polestitch.stitching.moves import station
from polestitch.stitching.site import Site
from polestitch.stitching.stitches import Row
from polestitch.stitching.strokes import stroke_row
from polestitch.stitching.weaves import Threads, beneath, second_below

PLACE = "centre"
EXAMPLE = {"division": "C10", "where": "N", "rows": "1 white, 1 gold, 1 navy", "params": {"at": "20 mm"}}
HOW = (
    "Each row is one direction: lay every thread from edge to edge of the figure, and run the needle under the wrap "
    "along the edge to the next.",
    "Begin each direction with the thread nearest to the centre's left, and keep the gaps even.",
    "From the second direction on, go over and under by turns, eye first; each next thread begins the other way.",
)


class Params(BaseModel, frozen=True, extra="forbid"):
    """The figure, the directions, and the gaps."""

    corners: Annotated[
        int | None, Field(ge=3, le=64, description="Corners of the figure; none: one on every second line")
    ] = None
    at: Annotated[Length, Field(description="Corners of the figure, on the guidelines")] = Length("1/2 from centre")
    directions: Annotated[
        Literal[2, 3, 4],
        Field(description="2: square eyes (yotsume), 3: six-sided (mutsume), 4: eight-sided (yatsume)"),
    ] = 3
    apart: Annotated[Length, Field(description="From thread to thread of one direction")] = Length("5 mm")
    centre: Annotated[
        Literal["line", "eye"],
        Field(description="Whether a thread of the first direction lies on the centre, or the centre is an open eye"),
    ] = "line"


# By how much of a gap each direction is moved aside, so that no three threads meet in a point.
_ASIDE = {
    ("line", 2): (0.0, 0.0),
    ("line", 3): (0.0, 0.25, -0.25),
    ("line", 4): (0.0, 0.25, 0.0, 0.5),
    ("eye", 2): (0.5, 0.5),
    ("eye", 3): (0.5, 0.5, 0.5),
    ("eye", 4): (0.5, 0.5, 0.5, 0.5),
}


class _Strokes(NamedTuple):
    """The threads of one direction: great circles, and where they start and end at the edge; (n, 3) each."""

    normal: Points
    start: Points
    end: Points


def stitch(site: Site, params: Params, pitches: Iterable[float]) -> Iterator[Row]:
    """One row for each direction."""
    widths = list(pitches)
    if len(widths) > params.directions:
        raise DesignError("rows", f"has more entries than the {params.directions} directions; name one colour for each")
    sides, apart = _sides(site, params), site.width(params.apart, "params.apart")
    if widths and apart < max(widths):
        raise DesignError("params.apart", "is less than one thread is wide; set the threads further apart")
    laid = [_strokes(k, sides, apart, params) for k in range(params.directions)]
    normals = np.concatenate([strokes.normal for strokes in laid])
    first = np.cumsum([0, *(len(strokes.normal) for strokes in laid)])
    threads = Threads(normals, np.zeros(len(normals)))
    for k, (pitch, strokes) in enumerate(zip(widths, laid)):
        own, others = range(first[k], first[k + 1]), range(first[k])
        owner = np.searchsorted(first, np.arange(first[k]), side="right")
        found = [
            (int(owner[other]), at)
            for thread in own
            for other in others
            for at in _crossing(threads, (other, thread), sides)
            if second_below(threads, (other, thread), at[None], "params.apart")[0]
        ]
        yield replace(stroke_row(site, (k + 1, pitch, k), strokes.start, strokes.end), beneath=beneath(found))


def _sides(site: Site, params: Params) -> Points:
    """(k, 3) inward normals of the figure's sides."""
    default = site.ways // 2 if site.ways >= 6 and site.ways % 2 == 0 else site.ways
    corners = params.corners or default
    if site.ways % corners:
        raise DesignError("params.corners", f"{corners} do not divide the {site.ways} lines here")
    index = np.arange(corners) * (site.ways // corners)
    distance = np.array([site.distance(params.at, int(k), "params.at") for k in index])
    at, _, _ = station(site.azimuths[index], distance)
    sides = cross(at, np.roll(at, -1, axis=0))
    if np.any(sides[:, 2] <= 0) or np.any(distance > 1.4):
        raise DesignError("params.at", "makes a figure as large as half the ball; set its corners nearer to the centre")
    return unit(sides)


def _strokes(direction: int, sides: Points, apart: float, params: Params) -> _Strokes:
    angle = direction * np.pi / params.directions
    along, aside = np.array([np.cos(angle), np.sin(angle), 0.0]), np.array([-np.sin(angle), np.cos(angle), 0.0])
    shift = _ASIDE[params.centre, params.directions][direction]
    reach = int(1.5 / apart) + 1
    found: list[tuple[Points, Points, Points]] = []
    for k in range(-reach, reach + 1):
        off = (k + shift) * apart
        if abs(off) < 1.5:
            middle = np.cos(off) * np.array([0.0, 0.0, 1.0]) + np.sin(off) * aside
            ends = _within(middle, along, sides)
            if ends is not None and arc_angle(ends[0], ends[1]) > apart / 4:
                forth = len(found) % 2 == 0  # the next thread begins where the one before it ended
                found.append((cross(middle, along), ends[0 if forth else 1], ends[1 if forth else 0]))
    if len(found) < 2:
        raise DesignError("params.apart", "leaves less than two threads in each direction; set them closer together")
    normal, start, end = (np.array(each) for each in zip(*found))
    return _Strokes(normal, start, end)


def _within(middle: Points, along: Points, sides: Points) -> tuple[Points, Points] | None:
    """Where the great circle from ``middle`` along ``along`` enters and leaves the figure."""
    least, most = -np.inf, np.inf  # tangent of the angle along the circle, which is less than a quarter
    for level, slope in zip((sides @ middle).tolist(), (sides @ along).tolist()):
        if abs(slope) < 1e-12:
            if level <= 0:
                return None
        elif slope > 0:
            least = max(least, -level / slope)
        else:
            most = min(most, -level / slope)
    if not -np.inf < least < most < np.inf:
        return None
    return unit(middle + least * along), unit(middle + most * along)


def _crossing(threads: Threads, pair: tuple[int, int], sides: Points) -> list[Points]:
    """The point where two threads cross inside the figure, or none."""
    across = cross(threads.normal[pair[0]], threads.normal[pair[1]])
    if float(across @ across) < 1e-18:
        return []
    at = unit(across) * (1.0 if across[2] > 0 else -1.0)
    return [at] if np.all(sides @ at > 0) else []
