"""Routes over the faces of a ball: one way that passes every face once, from the first to the last.

In: which faces touch.  Out: faces in visiting order.
"""

from collections.abc import Callable, Iterator, Mapping, Sequence

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
    if not search.goes_on(first):
        raise DesignError("where", "no way of one thread passes every face of this marking once; take another one")
    return search.way


class _Search:
    def __init__(self, touching: Touching, last: int, nearer: Callable[[int], float]) -> None:
        self.touching, self.last, self.nearer = touching, last, nearer
        self.way: tuple[int, ...] = ()

    def goes_on(self, first: int) -> bool:
        """Whether there is a way from ``first``; then ``self.way`` holds it."""
        way, been, ahead = [first], {first}, [self._choices(first, {first})]
        for _ in range(MOST_TRIES):
            if len(way) == len(self.touching):
                self.way = tuple(way)
                return True
            face = next(ahead[-1], None)
            if face is not None:
                way.append(face)
                been.add(face)
                ahead.append(self._choices(face, been))
            elif len(way) == 1:
                return False
            else:
                ahead.pop()
                been.remove(way.pop())
        return False

    def _choices(self, here: int, been: set[int]) -> Iterator[int]:
        """The faces to go on to, best first; none where ``here`` cannot be part of a way past all."""
        if here == self.last or not self._in_reach(here, been):
            return iter(())
        return iter(sorted((k for k in self.touching[here] if self._may(k, been)), key=self.nearer))

    def _may(self, face: int, been: set[int]) -> bool:
        return face not in been and (face != self.last or len(been) == len(self.touching) - 1)

    def _in_reach(self, here: int, been: set[int]) -> bool:
        """Whether every face still to visit can be reached from here, and none is a second dead end."""
        found, fresh = {here}, [here]
        while fresh:
            face = fresh.pop()
            beyond = [k for k in self.touching[face] if k not in been and k not in found]
            found.update(beyond)
            fresh += beyond
        if len(found) != len(self.touching) - len(been) + 1:
            return False
        left = found - {here, self.last}
        return all(sum(k in found for k in self.touching[face]) > 1 for face in left)
