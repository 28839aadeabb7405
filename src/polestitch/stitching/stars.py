"""Faces of a ball with a star in each, tip to tip with its neighbours.

In: the marked points of a ball whose centres have triangles between them.  Out: ``Star`` records.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from polestitch.errors import DesignError
from polestitch.sphere.arcs import Angles, Points, arc_angle, between, cross, move, toward, unit

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


def stars(points: Mapping[str, Points], corner: float) -> tuple[Star, ...]:
    """The face round every centre, then that round every triangle's middle.

    Each centre's face has its corners at the share ``corner`` of the way to the diamonds, where two
    centres face each other; what is left round a triangle has an edge with three centres and with
    three triangles.  ``DesignError`` at ``where`` for a marking without both.
    """
    centres = {name: at for name, at in points.items() if name in {"N", "S"} or name.startswith("centre")}
    triangles = {name: at for name, at in points.items() if name.startswith("triangle")}
    diamonds = np.array([at for name, at in points.items() if name.startswith("diamond")])
    if not triangles or not len(diamonds):
        raise DesignError(
            "where", "needs a marking that does divide the ball into faces round triangles too: C8 or C10"
        )
    names, at = [*centres, *triangles], np.array([*centres.values(), *triangles.values()])
    edges = [*_round_centres(at, len(centres), diamonds, corner), *_at_diamonds(at, len(centres), diamonds)]
    return tuple(_star(name, at, k, edges) for k, name in enumerate(names))


_Edge = tuple[int, int, Points]


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


def _star(name: str, at: Points, k: int, edges: Sequence[_Edge]) -> Star:
    mine = [(two if one == k else one, spot) for one, two, spot in edges if k in {one, two}]
    ahead = toward(at[k], mine[0][1])
    aside = cross(at[k], ahead)
    ways = [toward(at[k], spot) for _, spot in mine]
    around = [float(np.arctan2(way @ aside, way @ ahead)) % (2 * np.pi) for way in ways]
    order = sorted(range(len(mine)), key=lambda n: around[n] if around[n] < 2 * np.pi - _ROUNDING else 0.0)
    return Star(name, at[k], np.array([mine[n][1] for n in order]), tuple(mine[n][0] for n in order))
