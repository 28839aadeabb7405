"""Demands that run in a ring: which threads they tie together, and the shortest ring of all.

In: ``Demands``.  Out: ``Pieces``, or threads in a ring.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from heapq import heapify, heappop, heappush

import numpy as np
from numpy.typing import NDArray

from polestitch.laying.demands import Demands

Indices = NDArray[np.intp]

ROOM = 64_000_000  # bytes of one table of who comes before whom
SOME = 16  # threads a search starts from where tables would be too large


@dataclass(frozen=True, eq=False)
class Pieces:
    """Threads by piece: a piece is one thread, or threads that demands tie in rings."""

    of: Indices  # (n,) which piece each thread is in
    members: list[Indices]  # the pieces of two threads or more
    ring: Indices  # (pieces,) index into ``members``, -1 for a single thread
    pairs: Indices  # (e, 2) demands between threads

    def in_order(self, rings: Mapping[int, Sequence[int]]) -> list[int]:
        """All threads so that every demand between pieces is kept, the earliest first; inside, as given."""
        ends = self.of[self.pairs]
        ends = np.unique(ends[ends[:, 0] != ends[:, 1]], axis=0)
        count = len(self.ring)
        waits = np.bincount(ends[:, 1], minlength=count).tolist()
        begin = np.searchsorted(ends[:, 0], np.arange(count + 1)).tolist()
        after = ends[:, 1].tolist()
        first = np.full(count, len(self.of))
        np.minimum.at(first, self.of, np.arange(len(self.of)))
        rank, ring = first.tolist(), self.ring.tolist()
        free = [(rank[k], k) for k in range(count) if not waits[k]]
        heapify(free)
        order: list[int] = []
        while free:
            thread, piece = heappop(free)
            order.extend(rings[ring[piece]] if ring[piece] >= 0 else (thread,))
            for other in after[begin[piece] : begin[piece + 1]]:
                waits[other] -= 1
                if not waits[other]:
                    heappush(free, (rank[other], other))
        return order


def rings_apart(asked: Demands) -> Pieces:
    """The pieces of all threads."""
    from scipy.sparse import coo_matrix
    from scipy.sparse.csgraph import connected_components

    pairs = np.concatenate([asked.soft, asked.hard])
    graph = coo_matrix((np.ones(len(pairs)), (pairs[:, 0], pairs[:, 1])), shape=(asked.count, asked.count))
    count, of = connected_components(graph, directed=True, connection="strong")
    sizes = np.bincount(of, minlength=count)
    ring = np.where(sizes > 1, np.cumsum(sizes > 1) - 1, -1)
    by_piece = np.argsort(of, kind="stable")
    ends = np.cumsum(sizes)
    members = [np.sort(by_piece[ends[k] - sizes[k] : ends[k]]) for k in np.flatnonzero(sizes > 1)]
    return Pieces(of.astype(np.intp), members, ring, pairs)


def shortest_ring(asked: Demands, pieces: Pieces) -> tuple[int, ...]:
    """Threads that each must be laid before the next, and the last before the first, as few as can be."""
    if len(asked.own):
        return (int(asked.itself[0]),)
    inside = pieces.pairs[pieces.ring[pieces.of[pieces.pairs[:, 0]]] >= 0]
    inside = np.unique(inside[pieces.of[inside[:, 0]] == pieces.of[inside[:, 1]]], axis=0)
    keys = inside[:, 0] * asked.count + inside[:, 1]
    mutual = np.flatnonzero(np.isin(inside[:, 1] * asked.count + inside[:, 0], keys))
    if len(mutual):
        return tuple(inside[mutual[0]].tolist())
    threads, ends = np.unique(inside, return_inverse=True)
    ends = ends.reshape(-1, 2)
    return tuple(threads[_shortest(ends, len(threads))].tolist())


def _shortest(ends: Indices, count: int) -> list[int]:
    """A shortest ring where no two threads ask for both: three is then the least there can be."""
    width = (count + 7) // 8
    if len(ends) * width <= 16 * ROOM and count * width <= ROOM:
        return _ring_of_three(ends, count) or _ring_through(ends, count, _on_a_shortest(ends, count), count + 1)
    best = list(range(count + 1))
    for start in np.argsort(np.bincount(ends[:, 0]), kind="stable")[:SOME].tolist():
        best = min(best, _ring_through(ends, count, start, len(best)), key=len)
    return best


def _ring_of_three(ends: Indices, count: int) -> list[int]:
    """Three threads in a ring; none where there are none.  Looked for a part of the demands at a time."""
    after, before = _bits(ends, count), _bits(ends[:, ::-1], count)
    size = max(1, ROOM // 16 // after.shape[1])
    for low in range(0, len(ends), size):
        one, two = ends[low : low + size].T
        both = after[two] & before[one]
        hit = np.flatnonzero(both.any(axis=1))
        if len(hit):
            third = int(np.argmax(np.unpackbits(both[hit[0]], bitorder="little")))
            return [int(one[hit[0]]), int(two[hit[0]]), third]
    return []


def _bits(ends: Indices, count: int) -> NDArray[np.uint8]:
    """(count, count / 8) a bit for every pair."""
    table = np.zeros((count, (count + 7) // 8), dtype=np.uint8)
    np.bitwise_or.at(table, (ends[:, 0], ends[:, 1] // 8), (1 << (ends[:, 1] % 8)).astype(np.uint8))
    return table


def _on_a_shortest(ends: Indices, count: int) -> int:
    """A thread on a shortest ring, from tables of who is reached in one step more and one more."""
    begin = np.searchsorted(ends[:, 0], np.arange(count))  # every thread of a ring has one after it
    reached = _bits(ends, count)
    own = np.arange(count)
    while not np.any(back := reached[own, own // 8] >> (own % 8) & 1):
        reached = _one_further(reached, ends[:, 1], begin)
    return int(np.argmax(back))


def _one_further(reached: NDArray[np.uint8], after: Indices, begin: Indices) -> NDArray[np.uint8]:
    """Bit tables of who can be reached in one step more, a part of the threads at a time."""
    size = max(1, ROOM // max(1, reached.shape[1]))
    out = np.empty_like(reached)
    edges = np.append(begin, len(after))
    low = 0
    while low < len(begin):
        high = max(low + 1, int(np.searchsorted(edges, edges[low] + size, side="right")) - 1)
        high = min(high, len(begin))
        part = reached[after[edges[low] : edges[high]]]
        out[low:high] = np.bitwise_or.reduceat(part, edges[low:high] - edges[low], axis=0)
        low = high
    return out


def _ring_through(ends: Indices, count: int, start: int, shorter: int) -> list[int]:
    """The shortest ring through ``start`` if it has less than ``shorter`` threads, found breadth first."""
    begin = np.searchsorted(ends[:, 0], np.arange(count + 1)).tolist()
    after = ends[:, 1].tolist()
    came, front, size = {start: start}, [start], 1
    while front and size < shorter:
        reached, size = [], size + 1
        for thread in front:
            for other in after[begin[thread] : begin[thread + 1]]:
                if other == start:
                    return _way_back(came, thread)
                if other not in came:
                    came[other] = thread
                    reached.append(other)
        front = reached
    return list(range(shorter))


def _way_back(came: Mapping[int, int], thread: int) -> list[int]:
    """From the start to ``thread``."""
    way = [thread]
    while came[way[-1]] != way[-1]:
        way.append(came[way[-1]])
    return way[::-1]
