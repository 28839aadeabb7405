"""All crossings by trying every arc against every other: the plain numpy search ours is measured against.

In: ``Laid``.  Out: arrays.  It shares no code with ``polestitch.laying.crossings``.

Straight legs cross if each one's ends lie on different sides of the other's circle, and the sides agree
on which of the two opposite meeting points it is: two matrix products for all pairs.  Pairs with a wound
turn among them are solved one by one, both meeting points.  Touches are left out,
but only where both are straight.
"""

import numpy as np
from numpy.typing import NDArray

from polestitch.laying.laid import Laid

Found = tuple[NDArray[np.intp], NDArray[np.intp], NDArray[np.float64]]
TOUCH = 1e-9  # an end nearer the other's circle only touches
BLOCK = 256  # rows of the table tried at a time


def all_pairs(laid: Laid) -> Found:
    """First arc, second arc (k,) and point (k, 3) of every proper crossing of different spans, in no order."""
    straight = (laid.offset == 0) & (laid.sweep < np.pi)
    legs, turns = np.flatnonzero(straight), np.flatnonzero(~straight)
    found = [_straight(laid, legs[k : k + BLOCK], legs[k:]) for k in range(0, len(legs), BLOCK)]
    if len(turns):
        one, two = np.meshgrid(turns, np.arange(len(straight)), indexing="ij")
        wanted = (laid.arc_span[one] != laid.arc_span[two]) & (straight[two] | (one < two))
        found += [_solved(laid, one[wanted], two[wanted], sign) for sign in (1.0, -1.0)]
    one, two, point = (np.concatenate(part) for part in zip(*found))
    return np.minimum(one, two), np.maximum(one, two), point


def _straight(laid: Laid, rows: NDArray[np.intp], columns: NDArray[np.intp]) -> Found:
    end = laid.at(np.arange(len(laid.offset), dtype=np.int32), laid.sweep)
    from_one, to_one = laid.start[rows] @ laid.normal[columns].T, end[rows] @ laid.normal[columns].T
    from_two, to_two = laid.normal[rows] @ laid.start[columns].T, laid.normal[rows] @ end[columns].T
    crosses = (from_one * to_one < 0) & (from_two * to_two < 0) & (from_one * from_two < 0)
    i, j = np.nonzero(crosses)
    clear = np.min([np.abs(side[i, j]) for side in (from_one, to_one, from_two, to_two)], axis=0) > TOUCH
    later = clear & (columns[j] > rows[i]) & (laid.arc_span[rows[i]] != laid.arc_span[columns[j]])
    one, two = rows[i[later]], columns[j[later]]
    point = np.cross(laid.normal[one], laid.normal[two])
    point *= (np.sign(from_one[i[later], j[later]]) / np.linalg.norm(point, axis=1))[:, None]
    return one, two, point


def _solved(laid: Laid, one: NDArray[np.intp], two: NDArray[np.intp], sign: float) -> Found:
    n1, n2, c1, c2 = laid.normal[one], laid.normal[two], laid.offset[one], laid.offset[two]
    cross, d = np.cross(n1, n2), np.einsum("ki,ki->k", n1, n2)
    size = np.einsum("ki,ki->k", cross, cross)
    meet = size > 1e-18
    one, two, n1, n2, c1, c2, cross, d, size = (v[meet] for v in (one, two, n1, n2, c1, c2, cross, d, size))
    base = ((c1 - c2 * d) / size)[:, None] * n1 + ((c2 - c1 * d) / size)[:, None] * n2
    high = (1 - np.einsum("ki,ki->k", base, base)) / size
    meet = high > 0
    point = base[meet] + sign * np.sqrt(high[meet])[:, None] * cross[meet]
    one, two = one[meet], two[meet]
    on = np.ones(len(one), dtype=bool)
    for arc in (one, two):
        on &= laid.t_of(arc.astype(np.int32), point) < laid.sweep[arc]
    return one[on], two[on], point[on]
