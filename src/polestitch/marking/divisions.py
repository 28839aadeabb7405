"""Divisions by name: ``S2`` to ``S64`` with or without ``+obi``, ``S8/S16``, ``C4 C6 C8 C10`` and faces as ``C10/42``.

In: the maker's word.  Out: a ``Marking``; the same word gives the same object.
"""

import re
from difflib import get_close_matches
from functools import lru_cache

from polestitch.errors import DesignError
from polestitch.marking.combination import combination
from polestitch.marking.faces import faces
from polestitch.marking.families import family
from polestitch.marking.marking import Marking
from polestitch.marking.simple import simple
from polestitch.marking.split import split

WHERE = "marking.division"
FEWEST, MOST = 2, 64
COMBINATIONS = (4, 6, 8, 10)
NAMES = tuple([f"S{n}{obi}" for n in range(FEWEST, MOST + 1) for obi in ("", "+obi")] + [f"C{n}" for n in COMBINATIONS])
_DIVISION = re.compile(r"(?P<letter>[SC])(?P<number>\d{1,6})(?P<obi>\+OBI)?", re.ASCII)
_SPLIT = re.compile(r"S(?P<north>\d{1,3})/S(?P<south>\d{1,3})(?:\+OBI)?", re.ASCII)


def marked(division: str) -> Marking:
    """The marking of ``division``, for example "S12+obi", "C8" or "C10/42"; spaces and case do not matter.

    ``DesignError`` at ``marking.division`` for any other word.
    """
    return _marked("".join(division.split()).upper())


@lru_cache(maxsize=32)
def _marked(word: str) -> Marking:
    match, several, poles = _DIVISION.fullmatch(word), family(word), _SPLIT.fullmatch(word)
    if several is not None:
        return faces(several)
    if poles is not None:
        return _split(int(poles["north"]), int(poles["south"]))
    if match is None:
        raise _unknown(word)
    number, obi = int(match["number"]), match["obi"] is not None
    return _simple(number, obi) if match["letter"] == "S" else _combination(number, obi)


def _simple(number: int, obi: bool) -> Marking:
    if not FEWEST <= number <= MOST:
        nearest = f"S{min(max(number, FEWEST), MOST)}" + ("+obi" if obi else "")
        raise DesignError(WHERE, f"a simple division has {FEWEST} to {MOST} lines, not {number}; write {nearest}")
    return simple(number, obi)


def _split(north: int, south: int) -> Marking:
    """Another number of lines at S than at N, where both are numbers a simple division may have."""
    if north == south:
        return _simple(north, obi=True)
    for number in (north, south):
        _simple(number, obi=True)
    return split(north, south)


def _combination(number: int, obi: bool) -> Marking:
    if number not in COMBINATIONS:
        nearest = min(COMBINATIONS, key=lambda known: abs(known - number))
        raise DesignError(WHERE, f"C{number} cannot be laid on a ball; there are C4, C6, C8 and C10, write C{nearest}")
    if obi:
        raise DesignError(WHERE, f'C{number} takes no "+obi"; write C{number}')
    return combination(number)


def _unknown(word: str) -> DesignError:
    close = get_close_matches(word.replace("OBI", "obi"), NAMES, n=2)
    every = "S2 to S64, such as S8 or S12+obi, or C4, C6, C8, C10 or C10/42"
    advice = f"write {' or '.join(close) or every}"
    return DesignError(WHERE, f'there is no division "{word[:20]}"; {advice}')
