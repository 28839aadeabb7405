"""The best colour plans: same colours as far apart as can be.

In: spots, rules, turns.  Out: plans, best first, none a turned copy of another.

The least distance between spots of one colour is made as large as it can be: for one distance after the other, from
the largest down, all nearer spots must differ, and a search with backtracking (the most hemmed-in spot first) finds
every plan or proves there is none.
"""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field

import numpy as np

from polestitch.colouring.rules import Indices, Rules, across, beside
from polestitch.sphere.arcs import Points, arc_angle

MOST_NODES, MOST_PLANS = 150_000, 3_000
SLACK = 1e-6
Plan = tuple[int, ...]


@dataclass
class Search:
    """One search; ``whole`` turns false when it gives up before the end."""

    ties: list[set[int]]
    twins: list[int | None]  # the opposite spot that must match
    rules: Rules
    nodes: int = 0
    whole: bool = True
    colours: list[int] = field(default_factory=list)

    def plans(self) -> Iterator[Plan]:
        """Every plan, as long as there is patience."""
        self.colours = [-1] * len(self.ties)
        yield from self._deeper((0,) * self.rules.colours)

    def _deeper(self, counts: tuple[int, ...]) -> Iterator[Plan]:
        self.nodes += 1
        if self.nodes > MOST_NODES:
            self.whole = False
            return
        open_ = [k for k, colour in enumerate(self.colours) if colour < 0]
        if not open_:
            yield tuple(self.colours)
            return
        spot = max(open_, key=lambda k: (len(self._taken(k)), len(self.ties[k]), -k))
        taken, twin = self._taken(spot), self.twins[spot]
        choices = [self.colours[twin]] if twin is not None and self.colours[twin] >= 0 else range(self.rules.colours)
        for colour in choices:
            used = (*counts[:colour], counts[colour] + 1, *counts[colour + 1 :])
            if colour not in taken and self.rules.allows(used, len(open_) - 1):
                self.colours[spot] = colour
                yield from self._deeper(used)
                self.colours[spot] = -1

    def _taken(self, spot: int) -> set[int]:
        return {self.colours[tie] for tie in self.ties[spot]} - {-1}


@dataclass(frozen=True)
class Found:
    """Plans, best first; ``proven`` where no better one can exist."""

    plans: tuple[Plan, ...]
    apart: tuple[float, ...]  # least distance between two spots of one colour, radians
    proven: bool


def best_plans(at: Points, rules: Rules, turns: Sequence[Indices], count: int = 12) -> Found:
    """Up to ``count`` plans."""
    distances = np.asarray(arc_angle(at[:, None], at[None]))
    pairs = distances[np.triu_indices(len(at), 1)]
    levels = [math.inf, *sorted({round(float(d), 6) for d in pairs}, reverse=True)]
    kept: dict[Plan, float] = {}
    proven = True
    for level in levels:
        search = _search(at, rules, distances, level)
        for plan in search.plans():
            kept.setdefault(_upright(plan, turns), _score(plan, distances))
            if len(kept) >= MOST_PLANS:
                break
        proven = proven and (search.whole or bool(kept))
        if len(kept) >= count:
            break
    ranked = sorted(kept, key=lambda plan: (-_apart(plan, distances), kept[plan], plan))[:count]
    return Found(tuple(ranked), tuple(_apart(plan, distances) for plan in ranked), proven)


def _search(at: Points, rules: Rules, distances: Points, level: float) -> Search:
    """Spots nearer than ``level`` must differ, but for opposite ones that must match."""
    ties: list[set[int]] = [set() for _ in at]
    twins: list[int | None] = [None] * len(at)
    near = np.argwhere(np.triu(distances < level - SLACK, 1))
    facing = across(at)
    matched = {(int(i), int(j)) for i, j in facing} if rules.opposite == "same" else set()
    apart = [*near, *(beside(at) if rules.neighbours_differ else []), *(facing if rules.opposite == "differ" else [])]
    for i, j in apart:
        if (int(i), int(j)) not in matched:
            ties[i].add(int(j))
            ties[j].add(int(i))
    for i, j in matched:
        twins[i], twins[j] = j, i
    return Search(ties, twins, rules)


def _upright(plan: Plan, turns: Sequence[Indices]) -> Plan:
    """Of all turned copies of a plan the one that comes first."""
    colours = np.array(plan)
    return min(tuple(int(c) for c in colours[turn]) for turn in turns)


def _same(plan: Plan, distances: Points) -> Points:
    colours = np.array(plan)
    i, j = np.triu_indices(len(plan), 1)
    return np.asarray(distances[i, j][colours[i] == colours[j]])


def _apart(plan: Plan, distances: Points) -> float:
    return float(_same(plan, distances).min(initial=math.pi))


def _score(plan: Plan, distances: Points) -> float:
    """How crowded spots of one colour are: like charges, the less the better."""
    same = _same(plan, distances)
    return float((1 / np.maximum(np.sin(same / 2), SLACK)).sum())
