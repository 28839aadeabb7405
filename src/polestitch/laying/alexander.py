"""Whether a link diagram surely holds together: its Alexander polynomial in one number of a finite field.

In: ``Diagram``.  Out: True or False.

One unknown for each strand from under-crossing to under-crossing, one equation for each crossing:
(1 - t) over + t left - right = 0, left and right as one sees the strands below from the strand on top
(Alexander's matrix, from memory).  A link of n strands that comes apart has rank n - 2 at most.
"""

import numpy as np
from numpy.typing import NDArray

from polestitch.laying.diagram import Diagram

Numbers = NDArray[np.int64]

PRIME = 2_147_483_629  # below 2^31, so that products of two fit into 64 bits
AT = 1_234_567  # the number looked at; any that is not 0 or 1 would do


def holds_together(drawn: Diagram) -> bool:
    """True where the rings cannot be parted in any way; False where that is not proved."""
    if drawn.count < 2:
        return drawn.count == 1
    if not len(drawn.upper):
        return False
    equations = _equations(drawn)
    return _rank(equations) == equations.shape[1] - 1


def _equations(drawn: Diagram) -> Numbers:
    """(crossings, strands) coefficients; a ring that never goes under is one strand."""
    crossing = len(drawn.upper)
    order = np.lexsort((drawn.lower_at, drawn.lower))
    ring, at = drawn.lower[order], drawn.lower_at[order]
    begin = np.searchsorted(ring, np.arange(drawn.count + 1))
    under = np.diff(begin)
    free = np.cumsum(under == 0) - 1  # strands of rings without an under come last
    # Strand k starts at the k-th under-crossing, ring by ring; before it lies the one before, round its ring.
    out = np.empty(crossing, dtype=np.intp)
    out[order] = np.arange(crossing)
    into = np.where(out == begin[drawn.lower], begin[drawn.lower + 1] - 1, out - 1)
    key = ring * (at.max() + drawn.upper_at.max() + 2) + at
    found = np.searchsorted(key, drawn.upper * (at.max() + drawn.upper_at.max() + 2) + drawn.upper_at) - 1
    inside = np.where(found < begin[drawn.upper], begin[drawn.upper + 1] - 1, found)
    over = np.where(under[drawn.upper] > 0, inside, crossing + free[drawn.upper])
    left, right = np.where(drawn.sign > 0, out, into), np.where(drawn.sign > 0, into, out)
    table = np.zeros((crossing, crossing + int((under == 0).sum())), dtype=np.int64)
    here = np.arange(crossing)
    for strand, value in ((over, 1 - AT), (left, AT), (right, -1)):
        np.add.at(table, (here, strand), value)
    return np.asarray(table % PRIME)


def _rank(table: Numbers) -> int:
    """Rank over the field of ``PRIME`` elements, by elimination."""
    rest, rank = table.copy(), 0
    for column in range(rest.shape[1]):
        pivot = np.flatnonzero(rest[rank:, column])
        if not len(pivot):
            continue
        rest[[rank, rank + pivot[0]]] = rest[[rank + pivot[0], rank]]
        rest[rank] = rest[rank] * pow(int(rest[rank, column]), -1, PRIME) % PRIME
        below = np.flatnonzero(rest[rank + 1 :, column]) + rank + 1
        rest[below] = (rest[below] - rest[below, column][:, None] * rest[rank][None] % PRIME) % PRIME
        rank += 1
        if rank == len(rest):
            break
    return rank
