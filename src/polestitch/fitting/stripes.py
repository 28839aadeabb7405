"""Stripes: a row list with more or fewer rows that keeps its order, its ends and every stripe.

In: thread names, one a row.  Out: the same for another number of rows, and their text.
"""

from collections.abc import Sequence
from itertools import groupby


def stripes(threads: Sequence[str]) -> list[tuple[int, str]]:
    """Neighbouring rows of one thread taken together: ``[(2, "amber"), (1, "cream")]``."""
    return [(len(list(run)), name) for name, run in groupby(threads)]


def restriped(threads: Sequence[str], count: int) -> tuple[str, ...]:
    """``count`` rows with the stripes in their proportions, each at least one row; never fewer rows than stripes.

    Rows left over go to the stripes whose due share is cut most, of equals to the wider and then the earlier.
    """
    runs = stripes(threads)
    if count == len(threads):
        return tuple(threads)
    due = [width * count / len(threads) for width, _ in runs]
    rows = [max(1, int(share)) for share in due]
    while sum(rows) < count:
        k = max(range(len(runs)), key=lambda k: (round(due[k] - rows[k], 9), runs[k][0], -k))
        rows[k] += 1
    while sum(rows) > max(count, len(runs)):
        k = min((k for k in range(len(runs)) if rows[k] > 1), key=lambda k: (round(due[k] - rows[k], 9), k))
        rows[k] -= 1
    return tuple(name for k, (_, name) in enumerate(runs) for _ in range(rows[k]))


def rows_text(threads: Sequence[str]) -> str:
    """The row list as a maker writes it: ``"2 amber, 1 cream"``."""
    return ", ".join(f"{width} {name}" for width, name in stripes(threads))
