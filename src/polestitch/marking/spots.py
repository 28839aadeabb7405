"""Her words for where a layer is worked, with one spot more or one less.

In: what she wrote, and the marked point she touched.  Out: her words anew.  Whatever she wrote of other spots stays
as she wrote it, and every answer reads back as just the spots that are meant.
"""

from collections.abc import Iterator

from polestitch.ball.ball import Ball
from polestitch.document.said import listed
from polestitch.errors import DesignError
from polestitch.marking.address import plural, tidied
from polestitch.marking.marking import Marking
from polestitch.marking.where import ALL, places

Words = tuple[str, ...]


def with_spot(marking: Marking, where: str | Words, spot: str, ball: Ball) -> str | Words:
    """``where`` with the point ``spot`` in it, or without it where it was in; the last spot is never taken out.

    ``DesignError`` at ``where`` for words that name no spots, or a ``spot`` that is not marked.
    """
    texts = (where,) if isinstance(where, str) else tuple(where)
    read = _Reader(marking, ball)
    meant, touched = read.names(texts), read.names((spot,))[0]
    if touched not in meant:
        return _shortest(next(filter(read.just([*meant, touched]), _more(read, texts, touched))))
    left = [name for name in meant if name != touched]
    return _shortest(next(filter(read.just(left), _fewer(read, texts, touched)))) if left else where


def _shortest(texts: Words) -> str | Words:
    return texts[0] if len(texts) == 1 else texts


class _Reader:
    """What words name on this ball."""

    def __init__(self, marking: Marking, ball: Ball) -> None:
        self.marking, self.ball = marking, ball

    def names(self, texts: Words) -> list[str]:
        return [place.name for place in places(self.marking, texts, self.ball)]

    def just(self, names: list[str]) -> "_Just":
        return _Just(self, frozenset(names))

    def kind(self, name: str) -> str:
        return self.marking.by_name[name].kind if name in self.marking.by_name else ""


class _Just:
    """Whether words name just these spots."""

    def __init__(self, read: _Reader, names: frozenset[str]) -> None:
        self.read, self.meant = read, names

    def __call__(self, texts: Words) -> bool:
        try:
            found = self.read.names(texts)
        except DesignError:
            return False
        return len(found) == len(self.meant) and frozenset(found) == self.meant


def _more(read: _Reader, texts: Words, spot: str) -> Iterator[Words]:
    """Ways to say one spot more, the plainest first; the last always does."""
    yield (f"all {plural(read.kind(spot))}",)
    yield ("N and S",)
    for k, text in enumerate(texts):
        for fuller in _kept_in(read, text, spot):
            yield (*texts[:k], fuller, *texts[k + 1 :])
    yield (*texts, spot)


def _kept_in(read: _Reader, text: str, spot: str) -> Iterator[str]:
    """Words of "all … except …" that leave one spot less out."""
    every = ALL.fullmatch(tidied(text))
    if every and every[2]:
        left = [name for name in read.names((every[2],)) if name != spot]
        yield from (f"all {every[1]} except {names}" for names in _several(read, left))
        yield f"all {every[1]}"


def _fewer(read: _Reader, texts: Words, spot: str) -> Iterator[Words]:
    """Ways to say one spot less, nearest to what was written first; the last always does."""
    for k, text in enumerate(texts):
        named = read.names((text,))
        if spot not in named:
            continue
        left = [name for name in named if name != spot]
        if not left:
            yield (*texts[:k], *texts[k + 1 :])
        for less in (*_left_out(read, text, spot), *_several(read, left)):
            yield (*texts[:k], less, *texts[k + 1 :])
        yield (*texts[:k], *left, *texts[k + 1 :])


def _left_out(read: _Reader, text: str, spot: str) -> Iterator[str]:
    """Words of "all … except …" that leave one spot more out, as long as more are in than out."""
    every = ALL.fullmatch(tidied(text))
    if not every:
        return
    out = [*(read.names((every[2],)) if every[2] else ()), spot]
    if len(out) < len(read.names((text,))):
        yield from (f"all {every[1]} except {names}" for names in _several(read, out))


def _several(read: _Reader, names: list[str]) -> Iterator[str]:
    """Names in one phrase: "centres 3 and 5", or "N and triangle 2"."""
    kinds = {read.kind(name) for name in names}
    numbers = [name.rpartition(" ")[2] for name in names]
    if len(names) > 1 and len(kinds) == 1 and all(number.isdecimal() for number in numbers):
        yield f"{plural(kinds.pop())} {listed(numbers)}"
    if names:
        yield " and ".join(names)
