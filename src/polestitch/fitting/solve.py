"""Finding the number, length, thread or ball with which a wish comes true.

In: a document and wishes.  Out: the changed document and what was found.  Rows are counted, everything
else is found by root-finding on the stitched geometry.
"""

from collections.abc import Callable, Iterator
from contextlib import suppress
from copy import deepcopy
from dataclasses import dataclass, replace
from functools import cache
from itertools import pairwise
from math import isnan, nan
from typing import Any

import numpy as np

from polestitch.errors import DesignError
from polestitch.fitting.stage import Document, design_of
from polestitch.fitting.unknowns import Unknown, unknown
from polestitch.fitting.wishes import Missed, Wish, missed, wishes_of

EXACT_MM = 0.1  # a length is written to a tenth of a millimetre
_JUST = 1e-6  # mm: a count that overlaps by less than this still fits
_MOST_ROUNDS = 8  # for several wishes that pull at each other
_REFUSED = 8  # so many counts in a row that cannot be stitched, and no larger one can
_STEPS = 32  # points at which a continuous unknown is tried before a root is closed in on


@dataclass(frozen=True)
class Found:
    """What one wish needs."""

    wish: Wish
    old: str
    new: str
    missed: Missed
    sentence: str
    offers: tuple[str, ...] = ()  # other changes with which the wish does come true

    @property
    def exact(self) -> bool:
        """Whether the wish comes true as closely as can be set or counted."""
        return abs(self.missed.mm) <= EXACT_MM

    def plain(self) -> dict[str, Any]:
        """The answer's entry."""
        return {
            "layer": self.wish.layer,
            "change": self.wish.change,
            "from": self.old,
            "to": self.new,
            "residual_mm": round(self.missed.mm, 3),
            "exact": self.exact,
            "sentence": self.sentence,
            "offers": list(self.offers),
        }


def answered(document: Document, raw: dict[str, Any]) -> dict[str, Any]:
    """The document in which every wish comes true as nearly as can be, and what was found for each."""
    design_of(document)
    wishes = wishes_of(raw, document)
    made = deepcopy(document)
    for _ in range(_MOST_ROUNDS if len(wishes) > 1 else 1):
        before = made
        for wish in wishes:
            made = _solved(made, wish).document
        if made == before:
            break
    answers = [_told(document, made, wish) for wish in wishes]
    if len(answers) == 1 and not _as_near_as_rows_go(answers[0]):
        answers = [replace(answers[0], offers=tuple(_offers(document, wishes[0])))]
    return {"document": made, "found": [one.plain() for one in answers]}


def _as_near_as_rows_go(found: Found) -> bool:
    """Whether nothing better could be asked for: rows are whole, so less than one of them may be left."""
    return found.exact or (found.wish.change == "rows" and found.missed.mm > 0)


def _offers(document: Document, wish: Wish) -> Iterator[str]:
    """What else makes the wish come true, in the order a maker would change it."""
    for changes in (("rows", "stretch"), ("start",), ("thread",)):
        if changes == (wish.change,):
            continue
        asked = [wish.model_copy(update={"change": change, "param": None}) for change in changes]
        made = next(filter(None, (_true(start, asked) for start in _starts(document, asked[0]))), None)
        if made is not None:
            values = [_said(unknown(document, one), unknown(made, one), made) for one in asked]
            yield f'"{wish.layer}" {wish.said} with {" and ".join(values)}.'


def _starts(document: Document, first: Wish) -> Iterator[Document]:
    """Where to change from: for rows with as many as fit, and with one more, which a smaller step may draw in."""
    if first.change != "rows":
        yield document
        return
    with suppress(DesignError):
        fits = _solved(document, first).document
        rows = unknown(fits, first)
        yield from (fits, rows.put(rows.now + 1))


def _true(document: Document, asked: list[Wish]) -> Document | None:
    """The document with the last change made, if the wish then comes true."""
    with suppress(DesignError):
        made = _solved(document, asked[-1]).document
        if abs(missed(made, asked[-1]).mm) <= EXACT_MM:
            return made
    return None


@dataclass(frozen=True)
class _Solved:
    document: Document
    value: float


def _solved(document: Document, wish: Wish) -> _Solved:
    asked = unknown(document, wish)
    way = _listed if asked.listed else _counted if asked.whole else _root
    value = way(asked, wish)
    return _Solved(asked.put(value), value)


def _try(asked: Unknown, wish: Wish, value: float) -> float:
    """Room left beyond the wish, mm; not a number where it cannot be stitched."""
    try:
        return missed(asked.put(value), wish).mm
    except DesignError as error:
        if error.where.startswith("wish"):
            raise  # the wish itself cannot be measured, whatever the value
        return nan


def _listed(asked: Unknown, wish: Wish) -> float:
    """The one with which least room is left; those that overlap come last, and of equals the one named first."""
    left = {n: _try(asked, wish, n) for n in range(int(asked.least), int(asked.most) + 1)}
    able = {n: room for n, room in left.items() if not isnan(room)}
    if not able:
        raise DesignError("wish", f'"{wish.layer}" cannot be stitched as it is; polestitch check tells why')
    return float(min(able, key=lambda n: (able[n] < -EXACT_MM, round(abs(able[n]), 3), n)))


def _counted(asked: Unknown, wish: Wish) -> float:
    """The most rows that still leave room; else the fewest that can be stitched."""
    fits, over, refused = None, None, 0
    count = int(asked.least)
    while over is None and refused < _REFUSED and count <= asked.most:
        left = _try(asked, wish, count)
        refused = refused + 1 if isnan(left) else 0
        fits, over = (count, over) if left >= -_JUST else (fits, over if isnan(left) else count)
        count = count + 1 if isnan(left) or fits is None else 2 * count
    if over is None and refused:
        over = count - refused  # its technique takes no more
    if fits is None:
        return float(_first_stitched(asked, wish))
    return float(_between(asked, wish, fits, int(asked.most) + 1 if over is None else over))


def _between(asked: Unknown, wish: Wish, fits: int, over: int) -> int:
    """The largest count from ``fits`` that fits, where ``over`` does not."""
    while over - fits > 1:
        middle = (fits + over) // 2
        left = next(((n, one) for n in range(middle, over) if not isnan(one := _try(asked, wish, n))), None)
        if left is None:
            over = middle
        elif left[1] >= -_JUST:
            fits = left[0]
        else:
            over = middle if left[0] == middle else left[0]
            if left[0] != middle:
                return max((n for n in range(fits, middle + 1) if _try(asked, wish, n) >= -_JUST), default=fits)
    return fits


def _first_stitched(asked: Unknown, wish: Wish) -> int:
    counts = range(int(asked.least), int(asked.least) + 8)
    return next((n for n in counts if not isnan(_try(asked, wish, n))), int(asked.now))


def _root(asked: Unknown, wish: Wish) -> float:
    """The value nearest to the present one where nothing is missed; else where least is."""
    from scipy.optimize import brentq

    left = cache(lambda value: _try(asked, wish, value))
    grid = _grid(asked)
    for a, b in sorted(pairwise(grid), key=lambda span: abs(sum(span) / 2 - asked.now)):
        if left(a) * left(b) <= 0:
            value = _closed_in(brentq, left, a, b)
            if value is not None and abs(left(value)) < EXACT_MM:
                return asked.rounded(value)
    able = [value for value in grid if not isnan(left(value))]
    if not able:
        raise DesignError("wish", f'"{wish.layer}" cannot be stitched as it is; polestitch check tells why')
    return asked.rounded(min(able, key=lambda value: (round(abs(left(value)), 6), abs(value - asked.now))))


def _closed_in(brentq: Any, left: Callable[[float], float], a: float, b: float) -> float | None:
    """The root between ``a`` and ``b``; ``None`` where some value between cannot be stitched."""
    try:
        value = float(brentq(left, a, b, xtol=1e-5))
    except ValueError:
        return None
    return None if isnan(value) else value


def _grid(asked: Unknown) -> list[float]:
    return sorted({*np.geomspace(asked.least, asked.most, _STEPS).tolist(), asked.now})


def _told(document: Document, made: Document, wish: Wish) -> Found:
    old, new = unknown(document, wish), unknown(made, wish)
    here, value = missed(made, wish), _said(old, new, made)
    return Found(wish, old.said(old.now), value, here, _sentence(new, value, wish, here))


def _said(old: Unknown, new: Unknown, made: Document) -> str:
    """The new value in words; which of some threads it is, the old document tells with what she has."""
    if not new.listed:
        return new.said(new.now)
    names = range(int(old.least), int(old.most) + 1)
    return next((old.said(n) for n in names if old.put(n)["threads"] == made["threads"]), new.said(new.now))


def _sentence(new: Unknown, value: str, wish: Wish, here: Missed) -> str:
    layer = f'"{wish.layer}"'
    if abs(here.mm) <= EXACT_MM:
        return f"{layer} {wish.said} with {value}."
    if new.listed:
        return f"No thread makes it so that {layer} {wish.said}: nearest is {value}, where {_left(here)}."
    if new.whole and here.mm > 0:
        return f"{layer} nearly {wish.said} with {value}: {_left(here)}{_one_more(new, wish)}."
    return f"Nothing makes it so that {layer} {wish.said}: nearest is {value}, where {_left(here)}."


def _left(here: Missed) -> str:
    return f"{abs(here.mm):.1f} mm {'is left' if here.mm > 0 else 'is too much'} {here.place}"


def _one_more(new: Unknown, wish: Wish) -> str:
    more = _try(new, wish, new.now + 1)
    return f", and one more row would be {-more:.1f} mm too much" if more < 0 else ""
