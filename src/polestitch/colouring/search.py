"""The best colour plans: same colours as far apart as can be, or neighbours as unlike as can be.

In: parts, rules, turns; for contrast how unlike the threads are.  Out: plans, best first, no turned copies.

The worst place of a plan is made as good as it can be: the least distance between spots of one colour, or the least
difference between neighbours.  For one level after the other, from the best down, whatever would be worse is
forbidden, and a search with backtracking (the most hemmed-in spot first) finds every plan or proves there is none.
"""

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field

import numpy as np

from polestitch.colouring.rules import Indices, Parts, Rules, must_differ
from polestitch.sphere.arcs import Points

MOST_NODES, MOST_PLANS = 150_000, 3_000
SLACK = 1e-6
Plan = tuple[int, ...]
Rank = Callable[[Plan], tuple[float, float]]  # the least comes first
Clash = tuple[frozenset[int], ...]  # by colour: which may not lie beside it


@dataclass
class Search:
    """One search; ``whole`` turns false when it gives up before the end."""

    ties: list[set[int]]
    twins: list[int | None]  # the opposite spot that must match
    rules: Rules
    touching: list[set[int]] = field(default_factory=list)
    clash: Clash = ()
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
        taken = {self.colours[tie] for tie in self.ties[spot]} - {-1}
        if self.clash:
            taken.update(*(self.clash[self.colours[k]] for k in self.touching[spot] if self.colours[k] >= 0))
        return taken


@dataclass(frozen=True)
class Found:
    """Plans, best first; ``proven`` where no better one can exist."""

    plans: tuple[Plan, ...]
    worst: tuple[float, ...]  # least distance between two spots of one colour, or least difference of two neighbours
    proven: bool


def best_plans(parts: Parts, rules: Rules, turns: Sequence[Indices], count: int = 12) -> Found:
    """Up to ``count`` plans, like threads far apart."""
    distances = parts.distances
    pairs = distances[np.triu_indices(len(parts), 1)]
    levels = [math.inf, *sorted({round(float(d), 6) for d in pairs}, reverse=True)]
    searches = (_search(parts, rules, level) for level in levels)

    def rank(plan: Plan) -> tuple[float, float]:
        return -_apart(plan, distances), _crowded(plan, distances)

    found = _down(searches, turns, count, rank)
    return Found(found.plans, tuple(_apart(plan, distances) for plan in found.plans), found.proven)


def contrasting_plans(parts: Parts, rules: Rules, turns: Sequence[Indices], unlike: Points, count: int = 12) -> Found:
    """Up to ``count`` plans whose neighbours differ; ``unlike`` (colours, colours) is how much two threads differ."""
    one, other = np.triu_indices(rules.colours, 1)
    levels = sorted({round(float(u), 6) for u in unlike[one, other]}, reverse=True) or [0.0]
    searches = (_search(parts, rules, 0.0, _clash(unlike, level)) for level in levels)

    def rank(plan: Plan) -> tuple[float, float]:
        steps = _steps(plan, parts, unlike)
        return -float(steps.min(initial=math.inf)), -float(steps.sum())

    found = _down(searches, turns, count, rank)
    worst = tuple(float(_steps(plan, parts, unlike).min(initial=math.inf)) for plan in found.plans)
    return Found(found.plans, worst, found.proven)


def _down(searches: Iterator[Search], turns: Sequence[Indices], count: int, rank: Rank) -> Found:
    """The best plans of one search after another, until there are enough."""
    kept: dict[Plan, tuple[float, float]] = {}
    proven = True
    for search in searches:
        for plan in search.plans():
            kept.setdefault(_upright(plan, turns), rank(plan))
            if len(kept) >= MOST_PLANS:
                break
        proven = proven and (search.whole or bool(kept))
        if len(kept) >= count:
            break
    ranked = sorted(kept, key=lambda plan: (kept[plan], plan))[:count]
    return Found(tuple(ranked), (), proven)


def _clash(unlike: Points, level: float) -> Clash:
    """By colour, those that differ less than ``level`` from it; itself is left to the rule for neighbours."""
    close = (unlike < level - SLACK) & ~np.eye(len(unlike), dtype=bool)
    return tuple(frozenset(int(c) for c in np.flatnonzero(row)) for row in close)


def _search(parts: Parts, rules: Rules, level: float, clash: Clash = ()) -> Search:
    """Spots nearer than ``level`` must differ, but for opposite ones that must match."""
    twins: list[int | None] = [None] * len(parts)
    near = np.argwhere(np.triu(parts.distances < level - SLACK, 1))
    matched = {(int(i), int(j)) for i, j in parts.across} if rules.opposite == "same" else set()
    pairs = {(int(i), int(j)) for i, j in np.concatenate([near, must_differ(parts, rules)])}
    for i, j in matched:
        twins[i], twins[j] = j, i
    return Search(
        _tied(len(parts), pairs - matched),
        twins,
        rules,
        _tied(len(parts), {(int(i), int(j)) for i, j in parts.beside}),
        clash,
    )


def _tied(count: int, pairs: set[tuple[int, int]]) -> list[set[int]]:
    ties: list[set[int]] = [set() for _ in range(count)]
    for i, j in pairs:
        ties[i].add(j)
        ties[j].add(i)
    return ties


def _upright(plan: Plan, turns: Sequence[Indices]) -> Plan:
    """Of all turned copies of a plan the one that comes first."""
    colours = np.array(plan)
    return min(tuple(int(c) for c in colours[turn]) for turn in turns)


def _same(plan: Plan, distances: Points) -> Points:
    colours = np.array(plan)
    i, j = np.triu_indices(len(plan), 1)
    return np.asarray(distances[i, j][colours[i] == colours[j]])


def _steps(plan: Plan, parts: Parts, unlike: Points) -> Points:
    """(e,) how much neighbours differ; where they may match, those that do are left out."""
    colours = np.array(plan)
    one, other = colours[parts.beside[:, 0]], colours[parts.beside[:, 1]]
    return np.asarray(unlike[one, other][one != other])


def _apart(plan: Plan, distances: Points) -> float:
    return float(_same(plan, distances).min(initial=math.pi if distances.max() <= math.pi else math.inf))


def _crowded(plan: Plan, distances: Points) -> float:
    """How crowded spots of one colour are: like charges, the less the better."""
    same = _same(plan, distances)
    chord = np.sin(same / 2) if distances.max() <= math.pi else same
    return float((1 / np.maximum(chord, SLACK)).sum())
