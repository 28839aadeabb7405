"""What a colour plan must keep to.

In: nothing.  Out: ``Rules``, and the graph of spots that must differ or agree.
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


def beside(at: Points) -> Indices:
    """(e, 2) neighbouring spots: those hardly farther from each other than each from its nearest."""
    apart = np.asarray(arc_angle(at[:, None], at[None]))
    np.fill_diagonal(apart, np.inf)
    nearest = apart.min(axis=1)
    near = apart <= BESIDE * np.minimum(nearest[:, None], nearest[None])
    return np.argwhere(np.triu(near, 1))


def across(at: Points) -> Indices:
    """(e, 2) spots that lie opposite each other."""
    apart = np.asarray(arc_angle(at[:, None], at[None]))
    return np.argwhere(np.triu(apart > math.pi - ACROSS, 1))


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


def graph(at: Points, rules: Rules, turn: Indices | None = None) -> Graph:
    """Spots that ``turn`` (a permutation) brings onto each other have one colour: one node for all of them."""
    count = len(at)
    group = np.arange(count)

    def join(one: int, other: int) -> None:
        group[group == group[other]] = group[one]

    for spot in range(count if turn is not None else 0):
        join(spot, int(turn[spot]) if turn is not None else spot)
    facing = across(at)
    if rules.opposite == "same":
        for one, other in facing:
            join(int(one), int(other))
    names = {int(name): k for k, name in enumerate(np.unique(group))}
    node = [names[int(name)] for name in group]
    apart = [*(beside(at) if rules.neighbours_differ else []), *(facing if rules.opposite == "differ" else [])]
    edges = {(min(node[i], node[j]), max(node[i], node[j])) for i, j in apart}
    weights = tuple(node.count(k) for k in range(len(names)))
    return Graph(weights, frozenset(edges), all(one != other for one, other in edges))
