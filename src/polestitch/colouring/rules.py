"""What a colour plan must keep to.

In: where the parts lie, or how they follow each other.  Out: ``Parts``, ``Rules``, and the graph of parts that must
differ or agree.
"""

import math
from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from polestitch.sphere.arcs import Points, arc_angle

Indices = NDArray[np.intp]
Opposite = Literal["any", "same", "differ"]
# Two spots are neighbours up to this much farther apart than each is from its nearest.
BESIDE = 1.3
ACROSS = 1e-6


@dataclass(frozen=True)
class Rules:
    """``colours`` threads; ``uses`` says of each how often at least and at most, or is left out."""

    colours: int
    uses: tuple[tuple[int, int], ...] | None = None
    neighbours_differ: bool = True
    opposite: Opposite = "any"

    def allows(self, counts: tuple[int, ...], left: int) -> bool:
        """Whether ``counts`` so far can still end right with ``left`` spots to come."""
        if self.uses is None:
            return True
        if any(count > most for count, (_, most) in zip(counts, self.uses, strict=True)):
            return False
        lacking = sum(max(least - count, 0) for count, (least, _) in zip(counts, self.uses, strict=True))
        return lacking <= left


@dataclass(frozen=True, eq=False)
class Parts:
    """What takes a thread each: how far apart every two are, which are neighbours, which lie opposite."""

    distances: Points  # (n, n) radians on the ball, or steps in a row of stripes
    beside: Indices  # (e, 2)
    across: Indices  # (f, 2)

    def __len__(self) -> int:
        return len(self.distances)


def parts_at(at: Points) -> Parts:
    """Parts at spots ``at`` (n, 3), or where each has several, such as both poles of a band, (n, m, 3)."""
    distances = apart(at)
    return Parts(distances, beside(distances), across(at))


def parts_in_turn(count: int, ring: bool = False) -> Parts:
    """Stripes one after another; in a ``ring`` the first follows the last again."""
    place = np.arange(count)
    steps = np.abs(place[:, None] - place[None]).astype(float)
    steps = np.minimum(steps, count - steps) if ring else steps
    return Parts(steps, np.argwhere(np.triu(steps == 1, 1)), np.zeros((0, 2), dtype=np.intp))


def parts_meeting(count: int, meeting: Indices) -> Parts:
    """Parts of which the pairs ``meeting`` (e, 2) are neighbours; distance is counted in steps from one to the next."""
    steps = np.where(np.eye(count, dtype=bool), 0.0, np.inf)
    steps[meeting[:, 0], meeting[:, 1]] = steps[meeting[:, 1], meeting[:, 0]] = 1.0
    for k in range(count):
        steps = np.minimum(steps, steps[:, k, None] + steps[None, k])
    steps[np.isinf(steps)] = count
    return Parts(steps, np.argwhere(np.triu(steps == 1, 1)), np.zeros((0, 2), dtype=np.intp))


def apart(at: Points) -> Points:
    """(n, n) radians between the nearest spots of every two parts."""
    spots = at[:, None] if at.ndim == 2 else at
    pairs = np.asarray(arc_angle(spots[:, None, :, None], spots[None, :, None, :]))
    return np.asarray(pairs.min(axis=(2, 3)))


def beside(distances: Points) -> Indices:
    """(e, 2) neighbouring spots: those hardly farther from each other than each from its nearest."""
    far = distances + np.diag(np.full(len(distances), np.inf))
    nearest = far.min(axis=1)
    near = far <= BESIDE * np.minimum(nearest[:, None], nearest[None])
    return np.argwhere(np.triu(near, 1))


def across(at: Points) -> Indices:
    """(e, 2) spots that lie opposite each other; parts of several spots have no opposite."""
    if at.ndim > 2:
        return np.zeros((0, 2), dtype=np.intp)
    return np.argwhere(np.triu(apart(at) > math.pi - ACROSS, 1))


@dataclass(frozen=True, eq=False)
class Graph:
    """Spots as nodes, each with a weight; edges join those that must differ."""

    weights: tuple[int, ...]
    edges: frozenset[tuple[int, int]]
    possible: bool  # False where a spot would have to differ from itself

    @property
    def ties(self) -> list[set[int]]:
        """Neighbours of each node."""
        ties: list[set[int]] = [set() for _ in self.weights]
        for one, other in self.edges:
            ties[one].add(other)
            ties[other].add(one)
        return ties


def must_differ(parts: Parts, rules: Rules) -> Indices:
    """(e, 2) pairs that may not have one thread."""
    neighbours = parts.beside if rules.neighbours_differ else parts.beside[:0]
    return np.concatenate([neighbours, parts.across if rules.opposite == "differ" else parts.across[:0]])


def graph(parts: Parts, rules: Rules, turn: Indices | None = None) -> Graph:
    """Spots that ``turn`` (a permutation) brings onto each other have one colour: one node for all of them."""
    count = len(parts)
    group = np.arange(count)

    def join(one: int, other: int) -> None:
        group[group == group[other]] = group[one]

    for spot in range(count if turn is not None else 0):
        join(spot, int(turn[spot]) if turn is not None else spot)
    if rules.opposite == "same":
        for one, other in parts.across:
            join(int(one), int(other))
    names = {int(name): k for k, name in enumerate(np.unique(group))}
    node = [names[int(name)] for name in group]
    edges = {(min(node[i], node[j]), max(node[i], node[j])) for i, j in must_differ(parts, rules)}
    weights = tuple(node.count(k) for k in range(len(names)))
    return Graph(weights, frozenset(edges), all(one != other for one, other in edges))
