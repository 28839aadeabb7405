"""Her own path: the thread visits any spots of the ball, and each next row lies on the side you choose.

Every visit names a spot by its address.  The thread takes a bite there, or a wide one that gathers
all earlier legs, or runs on past a pin with no bite.  On its way it goes over what lies there
already; mark the visit to send it under on the way to there, or over and under by turns.  Worked at
several like places, the path is told for the first of them, and the ball is turned for the others.
"""

from collections.abc import Iterable, Iterator, Sequence
from typing import Annotated, Literal

import numpy as np
from pydantic import BaseModel, Field

from polestitch.document.said import listed
from polestitch.errors import DesignError
from polestitch.sphere.arcs import Points, arc_angle, cross
from polestitch.stitching.paths import Path, growing_along, onward
from polestitch.stitching.site import Site
from polestitch.stitching.stitches import Row

PLACE = "ball"
EXAMPLE = {
    "division": "S3",
    "where": "ball",
    "rows": "3 navy, 1 gold",
    "params": {"path": [f"line {k % 3 + 1}, {'1/4' if k % 2 else '2/3'}" for k in range(6)]},
}
HOW = (
    "Lay the thread from spot to spot in the order told, and take a bite at each but where a pin is named.",
    "Where a stretch is marked under, pass the needle below the threads that lie there, eye first.",
)
_NEAR = 1e-6
_FARTHEST = np.pi - 1e-3
_WAYS = {"o": "over", "u": "under"}
_TAKES = {"bite": " and take a bite", "wide bite": " and take a bite round all earlier legs", "pin": ", past its pin"}


class Visit(BaseModel, frozen=True, extra="forbid"):
    """One spot of the path."""

    at: Annotated[str, Field(min_length=1, max_length=200, description="Its address")]
    take: Annotated[
        Literal["bite", "wide bite", "pin"],
        Field(description="A plain bite; one round all earlier legs; or no bite, the thread held by a pin"),
    ] = "bite"
    pass_: Annotated[
        str,
        Field(
            alias="pass",
            pattern="^[ou]{0,100}$",
            description="How the thread takes what it meets on the way here: o over, u under, by turns as written; "
            "empty: over",
        ),
    ] = ""
    step: Annotated[bool, Field(description="Whether later rows step on here, or take the same spot again")] = True


class Params(BaseModel, frozen=True, extra="forbid"):
    """The spots, whether the path comes home, and where the next row goes."""

    path: Annotated[
        tuple[str | Visit, ...],
        Field(min_length=2, max_length=1000, description="Spots in visiting order: addresses, or visits with marks"),
    ] = ("line 1, 1/2", "line 2, 1/4", "line 3, 1/2")
    closed: Annotated[bool, Field(description="Whether each row comes home to its first spot")] = True
    side: Annotated[
        Literal["right", "left", "stay"],
        Field(description="On which side of the way it runs the next row lies; stay: on the same spots"),
    ] = "right"
    wide_step: Annotated[
        float,
        Field(
            ge=0,
            le=1.5,
            description="How far a wide bite moves on, in thread widths. No page gives it: correct it by eye",
        ),
    ] = 1.0


def route(site: Site, params: Params) -> Iterator[str]:
    """Where the first row comes up, and then what to do at one spot after the other."""
    visits = [Visit(at=each) if isinstance(each, str) else each for each in params.path]
    yield f"at {visits[0].at}"
    for visit in [*visits[1:], *visits[: int(params.closed)]]:
        ways = listed([_WAYS[way] for way in visit.pass_])
        passing = (
            f" Take what you meet on the way: {ways}{', and so on' if len(visit.pass_) > 1 else ''}." if ways else ""
        )
        yield f"Lay the thread to {visit.at}{_TAKES[visit.take]}.{passing}"


def stitch(site: Site, params: Params, pitches: Iterable[float]) -> Iterator[Row]:
    """Rows along the path; a row that ends open begins anew at the first spot."""
    return growing_along(_path(site, params), pitches, site)


def _path(site: Site, params: Params) -> Path:
    visits = [Visit(at=each) if isinstance(each, str) else each for each in params.path]
    at = np.array([_spot(site, visit.at, k) for k, visit in enumerate(visits)])
    _refuse_standing_still(at, visits, params.closed)
    stops = [k for k, visit in enumerate(visits) if visit.take != "pin"]
    if len(stops) < 2 or (not params.closed and {0, len(visits) - 1} - set(stops)):
        raise DesignError("params.path", "needs two bites at least, and a bite at each end of an open path")
    travel = onward(at, params.closed)[stops]
    to_right = cross(travel, at[stops]) * (-1.0 if site.mirrored else 1.0)
    taken = [visits[k] for k in stops]
    between = [_until(stops, n, len(visits)) for n in range(len(stops))]
    return Path(
        places=at[stops],
        outward=-to_right if params.side == "left" else to_right,
        travel=travel,
        spokes=tuple(range(1, len(stops) + 1)),
        steps=np.array([visit.step and params.side != "stay" for visit in taken]),
        wide=np.array([visit.take == "wide bite" for visit in taken]),
        wide_step=params.wide_step,
        closed=params.closed,
        via=tuple(at[list(on[:-1])].reshape(-1, 3) for on in between) if len(stops) < len(visits) else (),
        under=_marks(visits, between),
    )


def _spot(site: Site, text: str, k: int) -> Points:
    try:
        return site.points[text]
    except DesignError as error:
        raise DesignError(f"params.path[{k}]", error.what) from None


def _refuse_standing_still(at: Points, visits: Sequence[Visit], closed: bool) -> None:
    gaps = arc_angle(at, np.roll(at, -1, axis=0))[: len(at) if closed else -1]
    for k, gap in enumerate(gaps.tolist()):
        if not _NEAR < gap < _FARTHEST:
            pair = f"{visits[k].at} and {visits[(k + 1) % len(at)].at}"
            told = "are one spot; leave one out" if gap < 1 else "lie opposite; name a spot between them"
            raise DesignError("params.path", f"{pair} {told}")


def _until(stops: Sequence[int], n: int, count: int) -> list[int]:
    """The visits after bite ``n`` up to and with the next bite."""
    here, there = stops[n], stops[(n + 1) % len(stops)]
    return [k % count for k in range(here + 1, there + 1 if there > here else there + count + 1)]


def _marks(visits: Sequence[Visit], between: Sequence[Sequence[int]]) -> tuple[str, ...]:
    """How each span takes what it meets: the marks of all visits on its way, one after the other."""
    marks = tuple("".join(visits[k].pass_ for k in on) for on in between)
    return marks if any(marks) else ()
