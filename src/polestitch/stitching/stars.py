"""Faces of a ball with a star in each, tip to tip with its neighbours.

In: the marked points of a ball whose centres have triangles between them, or of a multi-face one.
Out: ``Star`` records.
"""

import itertools
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from polestitch.errors import DesignError
from polestitch.sphere.arcs import Angles, Points, arc_angle, between, cross, move, toward, unit
from polestitch.stitching.site import Site

_ROUNDING = 1e-6


@dataclass(frozen=True, eq=False)
class Star:
    """One face: ``k`` edges, to the right round its middle as seen with the middle up.

    ``edges`` are the spots in the middle of its edges, ``beyond`` the number of the face across each.
    """

    name: str
    middle: Points  # (3,)
    edges: Points  # (k, 3)
    beyond: tuple[int, ...]

    def tip(self, edge: int, short: float) -> Points:
        """(3,) the tip of the star that points to ``edge``, so many radians short of it."""
        spot = self.edges[edge]
        return move(spot, toward(spot, self.middle), short)

    def inner(self, edge: int, distance: float) -> Points:
        """(3,) half way round from ``edge`` to the next, ``distance`` from the middle."""
        one, two = (toward(self.middle, self.edges[k % len(self.edges)]) for k in (edge, edge + 1))
        return move(self.middle, unit(one + two), distance)


def stars(site: Site, corner: float) -> tuple[Star, ...]:
    """The faces of a multi-face marking; of C8 or C10 the face round every centre, then that round every triangle.

    On C8 and C10 each centre's face has its corners at the share ``corner`` of the way to the
    diamonds, where two centres face each other; what is left round a triangle has an edge with three
    centres and with three triangles.  ``DesignError`` at ``where`` for a marking with no such faces.
    """
    points = site.points
    if site.faces:
        return _from({name: points[name] for name in site.faces}, _of_net(site))
    centres = {name: points[name] for name in ("N", "S") if name in points} | _named(points, "centre")
    triangles, diamonds = _named(points, "triangle"), np.array([*_named(points, "diamond").values()])
    if not triangles or not len(diamonds):
        raise DesignError("where", "needs a marking that does divide the ball into faces: C8, C10 or a multi-face one")
    faces = centres | triangles
    at = np.array([*faces.values()])
    edges = [*_round_centres(at, len(centres), diamonds, corner), *_at_diamonds(at, len(centres), diamonds)]
    return _from(faces, edges)


def _named(points: Mapping[str, Points], kind: str) -> dict[str, Points]:
    return {name: points[name] for name in points if name.startswith(f"{kind} ") and name.split()[-1].isdigit()}


def _from(faces: Mapping[str, Points], edges: Sequence["_Edge"]) -> tuple[Star, ...]:
    mine: list[list[tuple[int, Points]]] = [[] for _ in faces]
    for one, two, spot in edges:
        mine[one].append((two, spot))
        mine[two].append((one, spot))
    return tuple(_star(name, at, mine[k]) for k, (name, at) in enumerate(faces.items()))


_Edge = tuple[int, int, Points]


def _of_net(site: Site) -> list[_Edge]:
    """The sides of a multi-face marking: each runs between the two corners that the same two faces have."""
    meeting: dict[str, list[int]] = {}
    for face, corners in enumerate(site.faces.values()):
        for corner in corners:
            meeting.setdefault(corner, []).append(face)
    ends: dict[tuple[int, int], list[str]] = {}
    for corner, faces in meeting.items():
        for one, two in itertools.combinations(faces, 2):
            ends.setdefault((one, two), []).append(corner)
    return [(*faces, unit(site.points[a] + site.points[b])) for faces, (a, b) in ends.items()]


def _round_centres(at: Points, centres: int, diamonds: Points, corner: float) -> list[_Edge]:
    """Edges between a centre's face and those round the triangles it touches."""
    found = []
    for k in range(centres):
        around = _nearest(at[k], diamonds)
        for n in range(centres, len(at)):
            beside = [
                d for d in around if abs(arc_angle(at[n], diamonds[d]) - arc_angle(at[n], diamonds).min()) < _ROUNDING
            ]
            if len(beside) == 2:
                corners = [between(at[k], diamonds[d], corner) for d in beside]
                found.append((k, n, unit(corners[0] + corners[1])))
    return found


def _at_diamonds(at: Points, centres: int, diamonds: Points) -> list[_Edge]:
    """Edges between two faces round triangles: a diamond's middle lies on each."""
    found = []
    for spot in diamonds:
        one, two = (int(k) + centres for k in _nearest(spot, at[centres:]))
        found.append((one, two, spot))
    return found


def _nearest(spot: Points, others: Points) -> Sequence[int]:
    gaps: Angles = arc_angle(spot, others)
    return np.flatnonzero(gaps < gaps.min() + _ROUNDING).tolist()


def _star(name: str, at: Points, mine: Sequence[tuple[int, Points]]) -> Star:
    ahead = toward(at, mine[0][1])
    aside = cross(at, ahead)
    ways = [toward(at, spot) for _, spot in mine]
    around = [float(np.arctan2(way @ aside, way @ ahead)) % (2 * np.pi) for way in ways]
    order = sorted(range(len(mine)), key=lambda n: around[n] if around[n] < 2 * np.pi - _ROUNDING else 0.0)
    return Star(name, at, np.array([mine[n][1] for n in order]), tuple(mine[n][0] for n in order))
