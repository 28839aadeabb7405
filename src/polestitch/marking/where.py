"""What a layer's ``where`` names: spots to work motifs at.

In: an address, several, or words such as "all centres", "N and S", "centres 1, 3 and 5".
Out: places in the order said (sets: in the order of their numbers).
"""

import re

from polestitch.ball.ball import Ball
from polestitch.errors import DesignError
from polestitch.marking.address import COUNTED, KINDS, Place, address, kinds_said, plural, point, tidied
from polestitch.marking.marking import Marking

ALL = re.compile(r"all (?:the )?(.+?)(?: (?:except|but) (.+))?")
_SEVERAL = re.compile(rf"(center|{'|'.join(COUNTED)})s?(?: points?)? (\d+(?:(?:,| and|, and| to) ?\d+)+)")
_NUMBERS = re.compile(r"(\d+)(?: to (\d+))?")


def places(marking: Marking, where: str | tuple[str, ...], ball: Ball, path: str = "where") -> tuple[Place, ...]:
    """Every spot that ``where`` names; ``DesignError`` at ``path`` for none, an unknown one or one said twice."""
    texts = (where,) if isinstance(where, str) else where
    found = [place for text in texts for place in _named(marking, text, ball, path)]
    for n, place in enumerate(found):
        if place.name in {earlier.name for earlier in found[:n]}:
            raise DesignError(path, f"{place.name} is named twice; name each spot once")
    if not found:
        raise DesignError(path, f'no spot is named; write one of {kinds_said(marking)}, or "all centres"')
    return tuple(found)


def _named(marking: Marking, text: str, ball: Ball, path: str) -> list[Place]:
    words = tidied(text)
    every, several = ALL.fullmatch(words), _SEVERAL.fullmatch(words)
    if words in {"poles", "both poles", "all poles"}:
        return [point(marking, pole, path) for pole in ("N", "S")]
    if every:
        return _all(marking, every[1], every[2], ball, path)
    if several:
        return [point(marking, f"{several[1]} {number}", path) for number in numbers(several[2], path)]
    if " and " in words and "," not in words:
        return [address(marking, part, ball, path) for part in words.split(" and ")]
    return [address(marking, text, ball, path)]


def _all(marking: Marking, what: str, but: str | None, ball: Ball, path: str) -> list[Place]:
    kept_out = {place.name for place in places(marking, but, ball, path)} if but else set()
    names = [name for name in _members(marking, what, path) if name not in kept_out]
    return [point(marking, name, path) for name in names]


def _members(marking: Marking, what: str, path: str) -> list[str]:
    """Names of the points in "centres", "obi points", "points", or the corners of a support line."""
    if what == "points":
        return [known.name for known in marking.points]
    one = re.sub(r"s?( points| corners)?$", "", what)
    kind = KINDS.get(one, one)
    of_kind = [known.name for known in marking.by_name.values() if known.kind.lower() in {kind, what}]
    if kind == "obi" and not of_kind:
        of_kind = [f"obi {k + 1}" for k in range(len(marking.spokes["N"]))]
    if not of_kind:
        known = ", ".join(f'"all {plural(k)}"' for k in dict.fromkeys(p.kind for p in marking.by_name.values()))
        raise DesignError(path, f'{marking.division} has no {what[:40]}; write {known} or "all points"')
    return of_kind


def numbers(text: str, path: str) -> list[int]:
    """The numbers in "1, 3 and 5" or "2 to 6"."""
    found: list[int] = []
    for first, last in _NUMBERS.findall(text):
        if last and not int(first) < int(last) <= 1000:
            raise DesignError(path, f'"{first} to {last}" counts nothing; write the smaller number first')
        found += range(int(first), int(last or first) + 1)
    return found
