"""A list of threads, one a row, written as a maker writes rows.

In: thread names.  Out: text that ``row_list`` reads back as the same.
"""

from collections.abc import Sequence
from itertools import groupby


def row_text(threads: Sequence[str], until: str | None = None) -> str:
    """``"2 navy, 1 white"``, or ``"3 x (1 navy, 1 white)"`` where the list repeats itself."""
    period = _period(threads)
    items = ", ".join(f"{len(list(run))} {name}" for name, run in groupby(threads[:period]))
    times = len(threads) // period
    plain = items if times == 1 else _several(threads, items, times)
    return plain if until is None else f"until {until}: {plain}"


def _several(threads: Sequence[str], items: str, times: int) -> str:
    return f"{len(threads)} {threads[0]}" if len(set(threads)) == 1 else f"{times} x ({items})"


def _period(threads: Sequence[str]) -> int:
    """The shortest beginning that the whole list repeats."""
    count = len(threads)
    whole = [n for n in range(1, count + 1) if count % n == 0]
    return next(n for n in whole if all(threads[k] == threads[k % n] for k in range(count)))
