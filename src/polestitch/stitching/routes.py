"""Routes over the faces of a ball: one way that passes every face once, from the first to the last.

In: which faces touch.  Out: faces in visiting order.
"""

from collections.abc import Callable, Mapping, Sequence

from polestitch.errors import DesignError

Touching = Mapping[int, Sequence[int]]
# Far more than any ball with turns needs that was tried; only a marking with no such way comes near it.
MOST_TRIES = 200_000


def way_past_all(touching: Touching, first: int, last: int, nearer: Callable[[int], float]) -> tuple[int, ...]:
    """Every face once from ``first`` to ``last``, each touching the next; ``DesignError`` where none is found.

    Of the ways on the one is tried first whose face has the smallest ``nearer``, so that a route from
    pole to pole goes round the ball in turns.
    """
    search = _Search(touching, last, nearer)
    if not search.goes_on([first], {first}):
        raise DesignError("where", "no way of one thread passes every face of this marking once; take another one")
    return tuple(search.way)


class _Search:
    def __init__(self, touching: Touching, last: int, nearer: Callable[[int], float]) -> None:
        self.touching, self.last, self.nearer = touching, last, nearer
        self.tries, self.way = 0, [last]

    def goes_on(self, way: list[int], been: set[int]) -> bool:
        """Whether ``way`` can be made whole; then ``self.way`` holds it."""
        self.tries += 1
        if len(been) == len(self.touching):
            self.way = list(way)
            return way[-1] == self.last
        if self.tries > MOST_TRIES or way[-1] == self.last or not self._in_reach(way[-1], been):
            return False
        for face in sorted((k for k in self.touching[way[-1]] if k not in been), key=self.nearer):
            if self.goes_on([*way, face], been | {face}):
                return True
        return False

    def _in_reach(self, here: int, been: set[int]) -> bool:
        """Whether every face still to visit can be reached from here, and none is a second dead end."""
        found, fresh = {here}, [here]
        while fresh:
            fresh = [k for face in fresh for k in self.touching[face] if k not in been and k not in found]
            fresh = list(dict.fromkeys(fresh))
            found.update(fresh)
        left = [k for k in self.touching if k not in been]
        open_ways = (sum(k not in been or k == here for k in self.touching[face]) for face in left if face != self.last)
        return len(found) == len(left) + 1 and all(ways > 1 for ways in open_ways)
