"""Turns of the ball that leave its marking as it is, and those that take one place to places like it.

In: a marking.  Out: rotation matrices (3, 3) that act as ``turn @ point``.
"""

from collections.abc import Iterator, Sequence

import numpy as np

from polestitch.errors import DesignError
from polestitch.marking.address import Place
from polestitch.marking.marking import Guideline, Marking
from polestitch.sphere.arcs import Points, cross, dot, move, toward

SAME = 1e-6


def turns(marking: Marking) -> tuple[Points, ...]:
    """Every rotation that maps the guidelines to themselves, the one that leaves all in place first.

    Support lines count too: what is marked is what a maker can tell apart.
    """
    fixed = _Fixed(_spots(marking))
    first = marking.by_name["N"]
    own = _frame(first.at, marking.spokes["N"][0].direction)
    found: list[Points] = []
    for point in marking.by_name.values():
        spokes = marking.spokes.get(point.name, ())
        # A turn takes N only to a point with as many lines; on a ball of many faces that leaves few to try.
        for spoke in spokes if len(spokes) == len(marking.spokes["N"]) else ():
            turn = _frame(point.at, spoke.direction) @ own.T
            if fixed.by(turn) and not any(np.abs(turn - other).max() < SAME for other in found):
                found.append(turn)
    return tuple(sorted(found, key=lambda turn: -round(float(np.trace(turn)), 6)))


def like_places(marking: Marking, places: Sequence[Place], path: str = "where") -> tuple[Points, ...]:
    """For each place a turn that takes the first place to it; ``DesignError`` at ``path`` where none does.

    Of several turns the one is taken that keeps N's side of the place toward N best.
    """
    known = turns(marking)
    found = []
    for place in places:
        fits = [turn for turn in known if dot(turn @ places[0].at, place.at) > 1 - SAME]
        if not fits:
            raise DesignError(
                path, f"{place.name} is not like {places[0].name}: no turn of the ball takes one to the other"
            )
        found.append(max(fits, key=lambda turn: _kept(turn, places[0].at, place.at)))
    return tuple(found)


def _kept(turn: Points, first: Points, place: Points) -> float:
    """How well the turned place still has upward what had been upward; equal turns keep their order."""
    north = np.array([0.0, 0.0, 1.0])
    if abs(first[2]) > 1 - SAME or abs(place[2]) > 1 - SAME:
        return round(float(np.trace(turn)), 6)
    return round(float((turn @ toward(first, north)) @ toward(place, north)), 6)


def _frame(z: Points, x: Points) -> Points:
    return np.stack([x, cross(z, x), z], axis=1)


def _spots(marking: Marking) -> Points:
    """Points along every guideline that tell it from all others: both ends, or a circle's axis; and its middle."""
    return np.concatenate([list(_of_line(line)) for line in marking.guidelines])


def _of_line(line: Guideline) -> Iterator[Points]:
    whole = line.sweep > 2 * np.pi - SAME
    if whole:
        # A whole circle is its plane; both normals stand for it where it is a great one.
        yield line.normal * (1 + line.offset)
        yield -line.normal * (1 - line.offset)
        return
    ahead = cross(line.normal, line.start)
    for share in (0.0, 0.5, 1.0):
        yield move(line.start, ahead, share * line.sweep) * 3


class _Fixed:
    """Spots, and whether a turn takes each of them to one of them."""

    def __init__(self, spots: Points) -> None:
        from scipy.spatial import cKDTree  # here, since most balls never ask

        self._spots, self._tree = spots, cKDTree(spots)

    def by(self, turn: Points) -> bool:
        """A few spots are asked first: most turns that are none fail there."""
        images = self._spots @ turn.T
        return all(bool((self._tree.query(part)[0] < SAME).all()) for part in (images[:40], images[40:]) if len(part))
