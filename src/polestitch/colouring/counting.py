"""How many colour plans there are, those that a turn of the ball makes of each other counted once.

In: parts, rules, turns.  Out: a whole number.

Burnside's lemma: the mean over all turns of how many plans a turn leaves as they are.  Plans a turn leaves alone are
colourings of the graph in which spots it brings onto each other are one; they are counted node by node, keeping the
colours of those nodes only that still have neighbours to come.
"""

from collections import Counter
from collections.abc import Sequence

from polestitch.colouring.rules import Graph, Indices, Parts, Rules, graph

MOST_STATES = 400_000
State = tuple[tuple[int, ...], tuple[int, ...]]  # colours of open nodes, uses so far


def different_plans(parts: Parts, rules: Rules, turns: Sequence[Indices]) -> int | None:
    """How many plans differ by more than a turn of the ball; ``None`` where that is too much to count."""
    total = 0
    for turn in turns:
        fixed = colourings(graph(parts, rules, turn), rules)
        if fixed is None:
            return None
        total += fixed
    return total // len(turns)


def colourings(made: Graph, rules: Rules) -> int | None:
    """Colourings of a graph in which joined nodes differ; ``None`` beyond ``MOST_STATES`` at once."""
    if not made.possible:
        return 0
    ties, order = made.ties, _order(made)
    place = {node: k for k, node in enumerate(order)}
    last = {node: max((place[tie] for tie in ties[node]), default=-1) for node in order}
    left, open_ = sum(made.weights), list[int]()
    states: Counter[State] = Counter({((), (0,) * rules.colours if rules.uses else ()): 1})
    for k, node in enumerate(order):
        left -= made.weights[node]
        keep = [n for n, other in enumerate([*open_, node]) if last[other] > k]
        states = _coloured(states, rules, (made.weights[node], left), ([other in ties[node] for other in open_], keep))
        open_ = [([*open_, node])[n] for n in keep]
        if len(states) > MOST_STATES:
            return None
    return sum(states.values())


def _coloured(
    states: Counter[State], rules: Rules, weighed: tuple[int, int], around: tuple[list[bool], list[int]]
) -> Counter[State]:
    """``states`` with one more node in every colour it may have."""
    (weight, left), (tied, keep) = weighed, around
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
            found[tuple(now[n] for n in keep), used] += ways
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
