"""How many colour plans there are, those that a turn of the ball makes of each other counted once.

In: parts, rules, turns.  Out: a whole number.

Burnside's lemma: the mean over all turns of how many plans a turn leaves as they are.  Turns that another turn takes
into each other leave equally many, so one of each kind is enough.  Plans a turn leaves alone are colourings of the
graph in which parts it brings onto each other are one; they are counted node by node, keeping the colours of those
nodes only that still have neighbours to come, and uses only as far as they still matter.  Where all threads are asked
for alike, states that differ by which thread is which are one.
"""

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from polestitch.colouring.rules import Graph, Indices, Parts, Rules, graph

MOST_STATES = 250_000
State = tuple[tuple[int, ...], tuple[int, ...]]  # colours of open nodes, uses so far


def different_plans(parts: Parts, rules: Rules, turns: Sequence[Indices]) -> int | None:
    """How many plans differ by more than a turn of the ball; ``None`` where that is too much to count."""
    total = 0
    for turn, like in kinds_of_turn(turns):
        fixed = colourings(graph(parts, rules, turn), rules)
        if fixed is None:
            return None
        total += like * fixed
    return total // len(turns)


def kinds_of_turn(turns: Sequence[Indices]) -> list[tuple[Indices, int]]:
    """One turn of each conjugacy class, and how many there are of it."""
    left = {tuple(turn.tolist()): turn for turn in turns}
    back = [np.argsort(turn) for turn in turns]
    found = []
    while left:
        turn = next(iter(left.values()))
        like = {tuple(way[turn[home]].tolist()) for way, home in zip(turns, back)}
        found.append((turn, len(like)))
        left = {key: other for key, other in left.items() if key not in like}
    return found


@dataclass(frozen=True)
class _Uses:
    """What of the uses still matters: none beyond the least where there is no most, nor which of like threads."""

    rules: Rules
    caps: tuple[int | None, ...]
    alike: bool

    def settled(self, colours: tuple[int, ...], counts: tuple[int, ...]) -> State:
        """The state that stands for all that go on in the same way."""
        counts = tuple(n if cap is None else min(n, cap) for n, cap in zip(counts, self.caps))
        if not self.alike:
            return colours, counts
        seen = list(dict.fromkeys(colours))
        number = {colour: k for k, colour in enumerate(seen)}
        rest = sorted((n for colour, n in enumerate(counts) if colour not in number), reverse=True)
        return tuple(number[colour] for colour in colours), (*(counts[colour] for colour in seen if counts), *rest)


def _uses(rules: Rules, total: int) -> _Uses:
    bounds = rules.uses or ()
    caps = tuple(least if most >= total else None for least, most in bounds)
    return _Uses(rules, caps, len(set(bounds)) <= 1)


def colourings(made: Graph, rules: Rules) -> int | None:
    """Colourings of a graph in which joined nodes differ; ``None`` beyond ``MOST_STATES`` at once."""
    if not made.possible:
        return 0
    ties, order = made.ties, _order(made)
    place = {node: k for k, node in enumerate(order)}
    last = {node: max((place[tie] for tie in ties[node]), default=-1) for node in order}
    left, open_ = sum(made.weights), list[int]()
    uses = _uses(rules, left)
    states: Counter[State] = Counter({((), (0,) * rules.colours if rules.uses else ()): 1})
    for k, node in enumerate(order):
        left -= made.weights[node]
        keep = [n for n, other in enumerate([*open_, node]) if last[other] > k]
        states = _coloured(states, uses, (made.weights[node], left), ([other in ties[node] for other in open_], keep))
        open_ = [([*open_, node])[n] for n in keep]
        if len(states) > MOST_STATES:
            return None
    return sum(states.values())


def _coloured(
    states: Counter[State], uses: _Uses, weighed: tuple[int, int], around: tuple[list[bool], list[int]]
) -> Counter[State]:
    """``states`` with one more node in every colour it may have."""
    (weight, left), (tied, keep), rules = weighed, around, uses.rules
    found: Counter[State] = Counter()
    for (colours, counts), ways in states.items():
        taken = {colour for colour, tie in zip(colours, tied, strict=True) if tie}
        for colour in range(rules.colours):
            if colour in taken:
                continue
            used = counts
            if rules.uses is not None:
                used = (*counts[:colour], counts[colour] + weight, *counts[colour + 1 :])
                if not rules.allows(used, left):
                    continue
            now = (*colours, colour)
            found[uses.settled(tuple(now[n] for n in keep), used)] += ways
    return found


def _order(made: Graph) -> list[int]:
    """Nodes so that few stay open at a time: next whichever closes most and opens least."""
    ties, done, order = made.ties, set[int](), list[int]()
    while len(order) < len(made.weights):
        rest = [node for node in range(len(made.weights)) if node not in done]
        reached = [node for node in rest if ties[node] & done] or rest
        node = min(reached, key=lambda n: (len(ties[n] - done), -len(ties[n] & done), n))
        done.add(node)
        order.append(node)
    return order
