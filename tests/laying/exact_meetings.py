"""All crossings to fifty figures: two planes and the unit sphere solved pair by pair with decimal numbers.

In: ``Laid``.  Out: arrays as of the all-pairs search.  It shares no code and no rounding with ours: where circles
nearly agree (axes 1e-5 apart) doubles lose ten of their sixteen figures in the textbook formula.  Touches
are not told apart, so ask it only of arcs that are clear of them.
"""

from collections.abc import Iterator, Sequence
from decimal import Decimal, localcontext
from itertools import combinations

import numpy as np
from numpy.typing import NDArray

from polestitch.laying.laid import Laid

Found = tuple[NDArray[np.intp], NDArray[np.intp], NDArray[np.float64]]
Vector = Sequence[Decimal]
FIGURES = 50


def exact_meetings(laid: Laid) -> Found:
    """First arc, second arc (k,) and point (k, 3) of every crossing of different spans, in no order."""
    with localcontext(prec=FIGURES):
        found = list(_all(laid))
    one, two = (np.array([hit[k] for hit in found], dtype=np.intp) for k in (0, 1))
    return one, two, np.array([hit[2] for hit in found], dtype=float).reshape(-1, 3)


def _all(laid: Laid) -> Iterator[tuple[int, int, list[float]]]:
    for one, two in combinations(range(len(laid.offset)), 2):
        if laid.arc_span[one] != laid.arc_span[two]:
            for point in _of_circles(laid, one, two):
                at = np.array([[float(x) for x in point]])
                if all(laid.t_of(np.array([arc], np.int32), at)[0] < laid.sweep[arc] for arc in (one, two)):
                    yield one, two, at[0].tolist()


def _of_circles(laid: Laid, one: int, two: int) -> Iterator[Vector]:
    """Points x with n1 . x = c1, n2 . x = c2 and |x| = 1: the line the planes share, cut by the sphere."""
    n1, n2 = ([Decimal(float(x)) for x in laid.normal[k]] for k in (one, two))
    c1, c2 = (Decimal(float(laid.offset[k])) for k in (one, two))
    a, b, d = _dot(n1, n1), _dot(n2, n2), _dot(n1, n2)
    square = a * b - d * d
    if square == 0:
        return
    foot = [((c1 * b - c2 * d) * x + (c2 * a - c1 * d) * y) / square for x, y in zip(n1, n2)]
    along = [n1[i - 2] * n2[i - 1] - n1[i - 1] * n2[i - 2] for i in range(3)]
    high = (1 - _dot(foot, foot)) / square
    if high > 0:
        for root in (high.sqrt(), -high.sqrt()):
            yield [x + root * y for x, y in zip(foot, along)]


def _dot(a: Vector, b: Vector) -> Decimal:
    return sum((x * y for x, y in zip(a, b)), Decimal(0))
