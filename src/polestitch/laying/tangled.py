"""Threads that demands tie in rings: the order that breaks as few of them as it can.

In: ``Tangle``.  Out: ``Arranged``.  (Minimum feedback arc set with chains that must keep.)
"""

from dataclasses import dataclass
from heapq import heapify, heappop, heappush
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

Indices = NDArray[np.intp]

EXACT = 11  # threads up to which every subset is looked at
MOVED = 1500  # threads up to which a greedy order is improved
SWEEPS = 3
PACKED = 4000  # demands up to which rings are packed for the bound
MOST_RINGS = 300


@dataclass(frozen=True, eq=False)
class Tangle:
    """``members`` are threads of the ball; ``soft`` (e, 2) with ``weight`` (e,) and ``hard`` (h, 2) count from 0."""

    members: Indices
    soft: Indices
    weight: Indices
    hard: Indices


@dataclass(frozen=True)
class Arranged:
    """Threads of the ball in order, and the weight of demands that no order can keep, at least."""

    threads: tuple[int, ...]
    least: int


def arranged(tangle: Tangle) -> Arranged:
    """The best order found."""
    count = len(tangle.members)
    if count <= EXACT:
        order, least = _exact(tangle)
    else:
        orders = [np.arange(count), _greedy(tangle)]
        if count <= MOVED:
            orders = [_improved(tangle, order) for order in orders]
        order = min(orders, key=lambda order: _broken(tangle, order))
        least = _bound(tangle)
    return Arranged(tuple(tangle.members[order].tolist()), least)


def _broken(tangle: Tangle, order: Indices) -> int:
    """Weight of the demands an order breaks; without end where it breaks a hard one."""
    place = np.empty(len(order), dtype=np.intp)
    place[order] = np.arange(len(order))
    if np.any(place[tangle.hard[:, 0]] > place[tangle.hard[:, 1]]):
        return int(tangle.weight.sum()) + 1
    return int(tangle.weight[place[tangle.soft[:, 0]] > place[tangle.soft[:, 1]]].sum())


def _table(tangle: Tangle) -> Indices:
    """(n, n) weight of the demand that row's thread comes before column's."""
    table = np.zeros((len(tangle.members), len(tangle.members)), dtype=np.intp)
    table[tangle.soft[:, 0], tangle.soft[:, 1]] = tangle.weight
    return table


def _exact(tangle: Tangle) -> tuple[Indices, int]:
    """Over all subsets: the cheapest way to lay them first (Held and Karp's scheme)."""
    count, table = len(tangle.members), _table(tangle)
    sets = np.arange(1 << count)
    inside = (sets[:, None] >> np.arange(count) & 1).astype(bool)
    missed = (~inside) @ table  # laying v last of a set breaks what asks others, still unlaid, before v
    blocked = np.zeros((len(sets), count), dtype=bool)
    for before, after in tangle.hard.tolist():
        blocked[:, after] |= ~inside[:, before]
    cost, last = np.full(len(sets), np.iinfo(np.int64).max // 2), np.zeros(len(sets), dtype=np.intp)
    cost[0] = 0
    for size in range(1, count + 1):
        of_size = sets[inside.sum(axis=1) == size]
        options = np.stack([cost[of_size ^ (1 << v) & of_size] + missed[of_size, v] for v in range(count)], axis=1)
        options[~inside[of_size] | blocked[of_size]] = np.iinfo(np.int64).max // 2
        last[of_size] = options.argmin(axis=1)
        cost[of_size] = options.min(axis=1)
    order, rest = [], len(sets) - 1
    while rest:
        order.append(int(last[rest]))
        rest ^= 1 << order[-1]
    return np.array(order[::-1], dtype=np.intp), int(cost[-1])


def _greedy(tangle: Tangle) -> Indices:
    """Always the thread on which least still waits to lie below it; the earliest of several."""
    count = len(tangle.members)
    by_first = np.argsort(tangle.soft[:, 0], kind="stable")
    begin = np.searchsorted(tangle.soft[by_first, 0], np.arange(count + 1)).tolist()
    after, weight = tangle.soft[by_first, 1].tolist(), tangle.weight[by_first].tolist()
    waits = np.bincount(tangle.soft[:, 1], weights=tangle.weight, minlength=count).astype(int).tolist()
    held = np.bincount(tangle.hard[:, 1], minlength=count).tolist()
    follows: list[list[int]] = [[] for _ in range(count)]
    for one, two in tangle.hard.tolist():
        follows[one].append(two)
    free = [(waits[k], k) for k in range(count) if not held[k]]
    heapify(free)
    order: list[int] = []
    done = [False] * count
    while free:
        least, thread = heappop(free)
        if done[thread] or least != waits[thread]:
            continue
        done[thread] = True
        order.append(thread)
        for k in range(begin[thread], begin[thread + 1]):
            other = after[k]
            waits[other] -= weight[k]
            if not done[other] and not held[other]:
                heappush(free, (waits[other], other))
        for other in follows[thread]:
            held[other] -= 1
            if not held[other]:
                heappush(free, (waits[other], other))
    return np.array(order, dtype=np.intp)


def _improved(tangle: Tangle, order: Indices) -> Indices:
    """``order`` with single threads moved to where they break least, until nothing is won."""
    table = _table(tangle)
    gain = table - table.T  # positive: row's thread wants to come before column's
    before, after = _neighbours(tangle)
    kept = list(order.tolist())
    for _ in range(SWEEPS):
        won = False
        for thread in order.tolist():
            here = kept.index(thread)
            rest = kept[:here] + kept[here + 1 :]
            low = max((rest.index(k) + 1 for k in before[thread]), default=0)
            high = min((rest.index(k) for k in after[thread]), default=len(rest))
            # Broken demands if it stood at each place: those of all before it that want to come after, and so on.
            costs = np.concatenate([[0], np.cumsum(gain[thread, rest])])[low : high + 1]
            best = low + int(np.argmin(costs))
            if costs[best - low] < costs[here - low]:
                kept, won = [*rest[:best], thread, *rest[best:]], True
        if not won:
            break
    return np.array(kept, dtype=np.intp)


def _neighbours(tangle: Tangle) -> tuple[list[list[int]], list[list[int]]]:
    """For each thread those that must come before it, and those that must come after."""
    before: list[list[int]] = [[] for _ in tangle.members]
    after: list[list[int]] = [[] for _ in tangle.members]
    for one, two in tangle.hard.tolist():
        before[two].append(one)
        after[one].append(two)
    return before, after


def _bound(tangle: Tangle) -> int:
    """Weight that must be broken: each pair that asks for both, and rings that share no demand."""
    count = len(tangle.members)
    key = tangle.soft[:, 0] * count + tangle.soft[:, 1]
    back = np.argsort(key)
    reverse = tangle.soft[:, 1] * count + tangle.soft[:, 0]
    at = np.minimum(np.searchsorted(key[back], reverse), len(key) - 1)
    mutual = key[back][at] == reverse
    weight = tangle.weight.copy()
    weight[mutual] -= np.minimum(tangle.weight, tangle.weight[back][at])[mutual]
    pairs = int((tangle.weight - weight).sum()) // 2
    return pairs + (_packed(tangle, weight) if len(key) <= PACKED else 0)


def _packed(tangle: Tangle, weight: Indices) -> int:
    """Weight of rings that share no demand, taken one after the other."""
    left = {(one, two): int(w) for (one, two), w in zip(tangle.soft.tolist(), weight.tolist()) if w}
    hard = set(map(tuple, tangle.hard.tolist()))
    total = 0
    for _ in range(MOST_RINGS):
        ring = _any_ring([*left, *hard], len(tangle.members))
        soft = [pair for pair in ring if pair not in hard]
        if not soft:
            break
        least = min(left[pair] for pair in soft)
        total += least
        for pair in soft:
            left[pair] -= least
            if not left[pair]:
                del left[pair]
    return total


def _any_ring(pairs: list[tuple[int, int]], count: int) -> list[tuple[int, int]]:
    """Demands that form a ring; none where there is no ring.  Depth first, without recursion."""
    after: list[list[int]] = [[] for _ in range(count)]
    for one, two in pairs:
        after[one].append(two)
    state = [0] * count
    for start in range(count):
        way = [start] if not state[start] else []
        state[start] = state[start] or 1
        while way:
            if not after[way[-1]]:
                state[way.pop()] = 2
                continue
            other = after[way[-1]].pop()
            if state[other] == 1:
                ring = [*way[way.index(other) :], other]
                return list(pairwise(ring))
            if not state[other]:
                state[other] = 1
                way.append(other)
    return []
