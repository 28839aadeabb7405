"""Threads shaded along rows, stripes or layers: dark to light, light to dark, there and back.

In: how many parts follow each other, the lightness of each thread, how often each may be used.  Out: named plans.
"""

from collections.abc import Sequence

Uses = tuple[tuple[int, int], ...]
Named = tuple[str, tuple[int, ...]]


def graded_plans(count: int, light: Sequence[float], uses: Uses | None = None) -> list[Named]:
    """Plans for ``count`` parts, each thread in one run, or in one run each way; none where the uses forbid it.

    Runs are as long as each other to within one part; where they cannot be, the threads at the end get more.
    """
    order = sorted(range(len(light)), key=lambda k: (light[k], k))
    bounds = [(1, count) if uses is None else uses[k] for k in order]
    found = [
        ("dark to light", _runs(count, order, bounds)),
        ("light to dark", _runs(count, order[::-1], bounds[::-1])),
        ("light in the middle", _there_and_back(count, order, bounds)),
        ("dark in the middle", _there_and_back(count, order[::-1], bounds[::-1])),
    ]
    seen: dict[tuple[int, ...], str] = {}
    for name, plan in found:
        if plan is not None:
            seen.setdefault(plan, name)
    return [(name, plan) for plan, name in seen.items()]


def _runs(count: int, order: Sequence[int], bounds: Sequence[tuple[int, int]]) -> tuple[int, ...] | None:
    lengths = shares(count, bounds)
    return None if lengths is None else tuple(k for k, length in zip(order, lengths) for _ in range(length))


def _there_and_back(count: int, order: Sequence[int], bounds: Sequence[tuple[int, int]]) -> tuple[int, ...] | None:
    """Every thread but the last on both sides, as often on the one as on the other."""
    half = [((least + 1) // 2, most // 2) for least, most in bounds[:-1]]
    least, most = bounds[-1]
    for middle in sorted(range(max(least, 1), most + 1), key=lambda m: (abs(m * len(order) - count), m)):
        if (count - middle) % 2:
            continue
        sides = shares((count - middle) // 2, half)
        if sides is not None:
            side = [k for k, length in zip(order, sides) for _ in range(length)]
            return (*side, *[order[-1]] * middle, *side[::-1])
    return None


def shares(count: int, bounds: Sequence[tuple[int, int]]) -> list[int] | None:
    """Whole numbers within ``bounds`` that sum to ``count``, as like each other as can be; ``None``: there are none."""
    lengths = [least for least, _ in bounds]
    while sum(lengths) < count:
        room = [k for k, (_, most) in enumerate(bounds) if lengths[k] < most]
        if not room:
            return None
        lengths[min(room, key=lambda k: (lengths[k], -k))] += 1
    return lengths if sum(lengths) == count else None
