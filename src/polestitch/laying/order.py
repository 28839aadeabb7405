"""In which order to stitch, so that the needle passes under earlier thread as seldom as can be.

In: ``Laid``, its crossings and who lies over whom.  Out: ``Order``.

What lies below is laid first, and rows of one motif follow each other, because each leans on the one
before.  Where these demands run in a ring no order fulfils them all; the shortest ring is the proof.
Fewest passes is then a minimum feedback arc set: exact for small rings by dynamic programming over
subsets, else a greedy order improved by moving one thread at a time, beside a bound that no order beats.
"""

from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from polestitch.laying.crossings import Crossings
from polestitch.laying.demands import Demands, demands
from polestitch.laying.laid import Laid
from polestitch.laying.proof import rings_apart, shortest_ring
from polestitch.laying.tangled import Tangle, arranged

Flags = NDArray[np.bool_]


@dataclass(frozen=True, eq=False)
class Order:
    """An order of threads (rows or spans, by index) and what it costs.

    ``proof`` is a shortest ring of threads, each to be laid before the next and the last before the
    first; it is empty where ``threads`` needs no needle at all.  A proof of one thread lies under itself.
    """

    threads: tuple[int, ...]
    unders: int  # crossings at which the needle passes under, in this order
    given: int  # the same in the order of laying
    least: int  # no order has fewer
    proof: tuple[int, ...]
    nearest: Flags  # (k,) the nearest relation that this order stitches with no needle under anything

    @property
    def certain(self) -> bool:
        """Whether no other order does better."""
        return self.unders == self.least


def stitching_order(laid: Laid, crossings: Crossings, lies_over: Flags, by: Literal["rows", "spans"] = "rows") -> Order:
    """The order of rows, or of single spans, with the fewest crossings under earlier thread."""
    asked = demands(laid, crossings, lies_over, by)
    count = asked.count
    pieces = rings_apart(asked)
    found = [arranged(_tangle(asked, members)) for members in pieces.members]
    place = np.empty(count, dtype=np.intp)
    threads = np.array(pieces.in_order({k: part.threads for k, part in enumerate(found)}), dtype=np.intp)
    place[threads] = np.arange(count)
    lower, upper = asked.lower_of, asked.upper_of
    against = place[lower] > place[upper]
    unders = int(against.sum()) + asked.within
    given = int((lower > upper).sum()) + asked.within
    least = sum(part.least for part in found) + asked.within
    proof = shortest_ring(asked, pieces) if unders else ()
    return Order(tuple(threads.tolist()), unders, given, least, proof, _nearest(asked, lies_over, against))


def _tangle(asked: Demands, members: NDArray[np.intp]) -> Tangle:
    """The demands among threads that no order can part, counted from 0."""
    number = np.full(asked.count, -1, dtype=np.intp)
    number[members] = np.arange(len(members))
    soft, hard = number[asked.soft], number[asked.hard]
    inside, chain = (soft >= 0).all(axis=1), (hard >= 0).all(axis=1)
    return Tangle(members, soft[inside], asked.weight[inside], hard[chain])


def _nearest(asked: Demands, lies_over: Flags, against: Flags) -> Flags:
    """``lies_over`` with every crossing turned that would take the needle under."""
    turned = lies_over.copy()
    turned[asked.crossing[against]] ^= True
    turned[asked.own] = True
    return turned
