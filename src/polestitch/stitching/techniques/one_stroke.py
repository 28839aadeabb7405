"""One stroke (hitofude-gake): one thread works a star in every face of the ball, down from N to S and up again.

On the way down it stitches one side of every star, on the way up the other, so that every star is
whole only when it is home.  It goes from star to star where their tips meet: in at the tip of one,
below the wrap to the edge between the two and on, and out at the tip of the other, so that the legs of
every star lie as if it had been worked alone.  A row of the list is one way: the first goes down, the
second up, and so on by turns; usually each has its own colour.
"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from typing import Annotated, Literal, NamedTuple

import numpy as np
from pydantic import BaseModel, Field

from polestitch.document.lengths import Length
from polestitch.errors import DesignError
from polestitch.sphere.arcs import Points, arc_angle, cross, dot, move, toward, unit
from polestitch.stitching.paths import Path, growing_along
from polestitch.stitching.routes import way_past_all
from polestitch.stitching.site import Site
from polestitch.stitching.stars import Star, stars
from polestitch.stitching.stitches import Row

PLACE = "ball"
EXAMPLE = {"division": "C8", "where": "ball", "rows": "1 navy, 1 gold", "params": {}}
HOW = (
    "Add the support lines first: round every centre a figure with its corners on the lines to the diamonds.",
    "On the way down work only one side of each star: outer tip, inner bite, outer tip, until you reach the tip "
    "where the next star begins. There go in at this star's tip, come up on the edge between the two, and go in "
    "again at once to come out at the next star's tip.",
    "On the way up go through the stars in the opposite order, and work the side that is still missing.",
    "At every inner bite carry the thread over all earlier threads. Take the bite round them all.",
)


class Params(BaseModel, frozen=True, extra="forbid"):
    """Where the faces have their corners, and where each star's bites lie."""

    corner: Annotated[
        float,
        Field(
            gt=0.2,
            lt=0.95,
            description="Corners of the figure round each centre, as a share of the way to the diamond: "
            "2/3, on small balls 1/2. A multi-face marking has corners of its own",
        ),
    ] = 2 / 3
    inner: Annotated[Length, Field(description="First inner bites, from the middle of the face")] = Length("3 mm")
    short: Annotated[
        Length,
        Field(
            description="How far the first tips stop short of the edge, where the thread turns back. "
            "No page gives it: a starting point to correct by eye"
        ),
    ] = Length("2 mm")
    inner_step: Annotated[
        float,
        Field(ge=0, le=1.5, description="How far each inner bite moves outward, in thread widths: correct it by eye"),
    ] = 1.0
    strokes: Annotated[
        Literal["by turns", "round"],
        Field(description="by turns: one row down, the next up; round: every row goes down and up again"),
    ] = "by turns"


class Spot(NamedTuple):
    """One bite of the stroke, in star ``face``."""

    at: Points
    face: int
    edge: int
    inner: bool
    sense: int  # 1 to the right round the star's middle, -1 to the left
    outward: Points
    beside: Points  # (3,) the middle of the edge a tip points to, where the thread changes stars


def strokes(site: Site, params: Params) -> tuple[list[Spot], list[Spot]]:
    """The bites of the first row down and of the first row up; each begins where the other ends."""
    faces = stars(site, params.corner)
    places = _Places(site.width(params.inner, "params.inner"), site.width(params.short, "params.short"))
    _refuse_too_small(faces, places)
    down, up = ([spot for leg in legs for spot in _side(faces[leg.face], leg, places)] for legs in _legs(faces))
    return down, up


def route(site: Site, params: Params) -> Iterator[str]:
    """Where the stroke begins, and then star by star how far it goes round, down and up again."""
    faces = stars(site, params.corner)
    down, up = _legs(faces)
    yield f"at the tip of the star at N toward {_tip(faces, down[0], down[0].begin)}"
    for way, legs in (("Down", down), ("Up", up)):
        for n, leg in enumerate(legs, 1):
            count = (leg.end - leg.begin) * leg.sense % len(faces[leg.face].beyond) or len(faces[leg.face].beyond)
            hand = "right" if (leg.sense > 0) != site.mirrored else "left"
            yield (
                f"{way}, star {n}, round {faces[leg.face].name} to the {hand}: from the tip toward "
                f"{_tip(faces, leg, leg.begin)} over {count} inner bite{'s' * (count > 1)} to the tip toward "
                f"{_tip(faces, leg, leg.end)}."
            )


def stitch(site: Site, params: Params, pitches: Iterable[float]) -> Iterator[Row]:
    """Rows down and up by turns, or both in one."""
    down, up = strokes(site, params)
    widths = list(pitches)
    if params.strokes == "round":
        yield from _rows([*down[:-1], *up[:-1]], params, widths, site)
        return
    ways = [_rows(way, params, widths[k::2], site) for k, way in enumerate((down, up))]
    for k in range(len(widths)):
        yield replace(next(ways[k % 2]), number=k + 1, plan=k, strand=k % 2)


def _tip(faces: Sequence[Star], leg: "_Leg", edge: int) -> str:
    return faces[faces[leg.face].beyond[edge]].name


def _legs(faces: Sequence[Star]) -> tuple[list["_Leg"], list["_Leg"]]:
    """The side of every star worked on the way down, and then of every star on the way up."""
    height = [float(face.middle[2]) for face in faces]
    first, last = int(np.argmax(height)), int(np.argmin(np.round(height, 6)))
    way = way_past_all(dict(enumerate(face.beyond for face in faces)), first, last, lambda k: -round(height[k], 6))
    down = [_leg(faces, way, n) for n in range(len(way))]
    return down, [leg._replace(begin=leg.end, end=leg.begin) for leg in reversed(down)]


class _Places(NamedTuple):
    inner: float
    short: float


class _Leg(NamedTuple):
    """One side of one star: from edge ``begin`` to edge ``end``, round the middle in one sense."""

    face: int
    sense: int
    begin: int
    end: int


def _refuse_too_small(faces: Sequence[Star], places: _Places) -> None:
    room = min(float(arc_angle(face.middle, face.edges).min()) for face in faces)
    if places.inner + places.short >= room:
        raise DesignError("params.inner", "and short leave no room for a star in the smallest face; make them smaller")


def _leg(faces: Sequence[Star], way: Sequence[int], n: int) -> _Leg:
    """The side worked on the way down; a star at a pole is cut in half where it is widest."""
    face, sense = faces[way[n]], 1 if n % 2 == 0 else -1
    half = len(face.beyond) // 2
    begin = face.beyond.index(way[n - 1]) if n else None
    end = face.beyond.index(way[n + 1]) if n + 1 < len(way) else None
    if begin is None:
        begin = ((end or 0) - sense * half) % len(face.beyond)
    if end is None:
        end = (begin + sense * half) % len(face.beyond)
    return _Leg(way[n], sense, begin, end)


def _side(star: Star, leg: _Leg, places: _Places) -> Iterator[Spot]:
    """The bites of one side, from tip to tip."""
    edges = [leg.begin]
    while edges[-1] != leg.end or len(edges) == 1:
        edges.append((edges[-1] + leg.sense) % len(star.beyond))
    for n, edge in enumerate(edges):
        if n:
            before = edges[n - 1] if leg.sense > 0 else edge
            yield _spot(star, leg, star.inner(before, places.inner), before, inner=True)
        yield _spot(star, leg, star.tip(edge, places.short), edge, inner=False)


def _spot(star: Star, leg: _Leg, at: Points, edge: int, *, inner: bool) -> Spot:
    return Spot(at, leg.face, edge, inner, leg.sense, -toward(at, star.middle), star.edges[edge])


def _rows(spots: Sequence[Spot], params: Params, widths: Sequence[float], site: Site) -> Iterator[Row]:
    path = _path(spots, params, closed=params.strokes == "round")
    edges = np.array([spot.beside for spot in spots])
    for row in growing_along(path, widths, site):
        yield _by_the_edges(row, path, edges)


def _by_the_edges(row: Row, path: Path, edges: Points) -> Row:
    """``row`` with the two bites of every leap led to the edge between the stars, but for a stitch of one pitch."""
    in_at, out_at = path.leaps, np.roll(path.leaps, 1)
    on = path.outward - dot(path.outward, edges)[:, None] * edges
    short = move(edges, -unit(on), row.pitch / 2)
    leaves = np.where(in_at[:, None], short, row.leaves)
    enters = np.where(out_at[:, None], short, row.enters)
    led = in_at | out_at
    places = np.where(led[:, None], unit(enters + leaves), row.places)
    travel = np.where(led[:, None], toward(places, enters), row.travel)
    return replace(row, places=places, travel=travel, half=np.where(led, arc_angle(enters, leaves) / 2, row.half))


def _path(spots: Sequence[Spot], params: Params, *, closed: bool) -> Path:
    at = np.array([spot.at for spot in spots])
    outward = np.array([spot.outward for spot in spots])
    face = np.array([spot.face for spot in spots])
    return Path(
        places=at,
        outward=outward,
        travel=np.array([[spot.sense] for spot in spots]) * cross(at, outward),
        spokes=tuple(range(1, len(spots) + 1)),
        steps=np.ones(len(spots), dtype=bool),
        wide=np.array([spot.inner for spot in spots]),
        wide_step=params.inner_step,
        closed=closed,
        leaps=face != np.roll(face, -1) if closed else np.append(face[:-1] != face[1:], False),
    )
