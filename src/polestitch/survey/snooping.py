"""Data snooping: which reading is probably misread.

In: wanted places and readings.  Out: the network without the readings that cannot be true, and their numbers.

Baarda's test, one reading at a time: the worst |w| beyond the critical value goes out, the rest is adjusted again,
and a reading that went out early comes back if it fits at the end.
"""

from collections.abc import Sequence

import numpy as np

from polestitch.sphere.arcs import Points
from polestitch.survey.leastsquares import critical
from polestitch.survey.network import Network, Observed, legs_of, network, rows

SAME = 0.98  # correlation of two tests beyond which one misreading cannot be told from the other: our choice


def snooped(
    wanted: Points, seen: Sequence[Observed], tape: float, radius_mm: float, significance: float
) -> tuple[Network, dict[int, tuple[int, ...]]]:
    """The network of what can be true, and the rows of ``seen`` that probably are not, worst first.

    Each with the rows it cannot be told from: a misreading of theirs would show in just the same way.
    """
    limit, out = critical(significance), dict[int, tuple[int, ...]]()
    while True:
        kept = [k for k in range(len(seen)) if k not in out]
        found = network(wanted, [seen[k] for k in kept], tape, radius_mm)
        tests = np.abs(found.held.tests[:-1])
        if not len(tests) or tests.max() <= limit:
            break
        worst = int(tests.argmax())
        out[kept[worst]] = tuple(kept[k] for k in _twins(found, worst))
    back = [k for k in out if abs(fit_of(found, seen[k])[1]) <= limit]
    if back and len(back) < len(out):
        out = {k: twins for k, twins in out.items() if k not in back}
        found = network(wanted, [seen[k] for k in range(len(seen)) if k not in out], tape, radius_mm)
    return found, out


def _twins(found: Network, row: int) -> tuple[int, ...]:
    """Readings whose tests go with that of ``row`` to the letter."""
    together = found.held.together(row)[:-1]
    return tuple(int(k) for k in np.flatnonzero(np.abs(together) > SAME) if k != row)


def fit_of(found: Network, one: Observed) -> tuple[float, float]:
    """How many mm a reading that was left out is off the adjusted pins, and that over its own standard deviation."""
    off = float(found.lacking([one])[0])
    row = rows(found.at, legs_of([one]), found.scale, found.radius_mm, found.wanted)[0]
    spread = np.sqrt(one.sigma_mm**2 + row @ found.covariance @ row)
    return off, off / float(spread)
