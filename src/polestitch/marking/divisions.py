"""Divisions by name: ``S2`` to ``S64`` with or without ``+obi``, and ``C4 C6 C8 C10``.

In: the maker's word.  Out: a ``Marking``; the same word gives the same object.
"""

import re
from difflib import get_close_matches
from functools import lru_cache

from polestitch.errors import DesignError
from polestitch.marking.combination import combination
from polestitch.marking.marking import Marking
from polestitch.marking.simple import simple

WHERE = "marking.division"
FEWEST, MOST = 2, 64
COMBINATIONS = (4, 6, 8, 10)
NAMES = tuple([f"S{n}{obi}" for n in range(FEWEST, MOST + 1) for obi in ("", "+obi")] + [f"C{n}" for n in COMBINATIONS])
_DIVISION = re.compile(r"(?P<letter>[SC])(?P<number>\d{1,6})(?P<obi>\+OBI)?", re.ASCII)
_MULTI_FACE = re.compile(r"(?:[SC]\d+/)?\d+(?:\(.*\))?", re.ASCII)


def marked(division: str) -> Marking:
    """The marking of ``division``, for example "S12+obi" or "C8"; spaces and case do not matter.

    ``DesignError`` at ``marking.division`` for any other word.
    """
    return _marked("".join(division.split()).upper())


@lru_cache(maxsize=32)
def _marked(word: str) -> Marking:
    match = _DIVISION.fullmatch(word)
    if match is None:
        raise _unknown(word)
    number, obi = int(match["number"]), match["obi"] is not None
    return _simple(number, obi) if match["letter"] == "S" else _combination(number, obi)


def _simple(number: int, obi: bool) -> Marking:
    if not FEWEST <= number <= MOST:
        nearest = f"S{min(max(number, FEWEST), MOST)}" + ("+obi" if obi else "")
        raise DesignError(WHERE, f"a simple division has {FEWEST} to {MOST} lines, not {number}; write {nearest}")
    return simple(number, obi)


def _combination(number: int, obi: bool) -> Marking:
    if number not in COMBINATIONS:
        nearest = min(COMBINATIONS, key=lambda known: abs(known - number))
        raise DesignError(WHERE, f"C{number} cannot be laid on a ball; there are C4, C6, C8 and C10, write C{nearest}")
    if obi:
        raise DesignError(WHERE, f'C{number} takes no "+obi"; write C{number}')
    return combination(number)


def _unknown(word: str) -> DesignError:
    if _MULTI_FACE.fullmatch(word):
        return DesignError(WHERE, f'multi-face division "{word[:20]}" is not there yet; write C10, its base')
    close = get_close_matches(word.replace("OBI", "obi"), NAMES, n=2)
    advice = f"write {' or '.join(close)}" if close else "write S2 to S64, such as S8 or S12+obi, or C4, C6, C8 or C10"
    return DesignError(WHERE, f'there is no division "{word[:20]}"; {advice}')
