"""Trails along lines that are no whole circles: in as few threads as can be, straight on wherever it goes.

In: a marking.  Out: for each thread the points it passes.
At a point each line goes on into the one most nearly opposite; closed trails are then joined where
they meet another.  A net with 2 n points of an odd number of lines takes n threads (Euler).
"""

from collections import defaultdict

from polestitch.marking.marking import Marking

Way = tuple[str, str]  # from one point to a neighbouring one


def trails(marking: Marking) -> list[list[str]]:
    """Names of the points each thread passes, from its first to its last; a closed one ends where it began."""
    onward = _onward(marking)
    ends = [(way[1], way[0]) for way, after in onward.items() if after is None]
    done: set[Way] = set()
    found = [_followed(way, onward, done) for way in [*ends, *onward] if way not in done]
    return _joined(found)


def _onward(marking: Marking) -> dict[Way, Way | None]:
    """After each way the next one; ``None`` where the thread ends: once at every point of an odd number of lines."""
    onward: dict[Way, Way | None] = {}
    for name, spokes in marking.spokes.items():
        ends = [spoke.end for spoke in spokes]
        if len(ends) % 2:
            onward[ends.pop(0), name] = None
        half = len(ends) // 2
        onward.update({(end, name): (name, ends[k - half]) for k, end in enumerate(ends)})
    return onward


def _followed(way: Way, onward: dict[Way, Way | None], done: set[Way]) -> list[str]:
    """Points from the start of ``way`` on, until the thread ends or closes; both directions are then done."""
    passed = [way[0]]
    step: Way | None = way
    while step is not None and step not in done:
        done |= {step, (step[1], step[0])}
        passed.append(step[1])
        step = onward[step]
    return passed


def _joined(found: list[list[str]]) -> list[list[str]]:
    """Closed trails let into the first trail they meet, open ones kept apart."""
    kept = [trail for trail in found if trail[0] != trail[-1]] or found[:1]
    loops = [trail for trail in found if trail[0] == trail[-1] and trail is not kept[0]]
    meets: dict[str, list[int]] = defaultdict(list)
    for n, loop in enumerate(loops):
        for name in dict.fromkeys(loop):
            meets[name].append(n)
    free = set(range(len(loops)))
    return [_with_loops(trail, loops, meets, free) for trail in kept]


def _with_loops(trail: list[str], loops: list[list[str]], meets: dict[str, list[int]], free: set[int]) -> list[str]:
    """``trail`` with every free loop it meets, and every loop those meet, gone round on the way."""
    whole: list[str] = []
    ahead = trail[::-1]
    while ahead:
        name = ahead.pop()
        whole.append(name)
        for n in meets[name]:
            if n in free:
                free.remove(n)
                ahead += _round(loops[n], loops[n].index(name))
                break
    return whole


def _round(loop: list[str], at: int) -> list[str]:
    """Once round from position ``at``, its first point left out; last first."""
    turned = loop[at + 1 :] + loop[1 : at + 1]
    return turned[::-1]
