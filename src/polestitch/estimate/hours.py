"""Hours of work, as a range, with every assumption on the table.

In: counts of the work.  Out: ``Hours`` with its parts and the assumptions behind them.
Hours are hours of work: never days, since nobody works round the clock.
"""

from collections.abc import Mapping
from dataclasses import dataclass

PRACTICE = "common practice, no source"
GUESS = "our guess"
# http://mail.temari.com/tips.htm: foam, batting, yarn and thread.
# https://blog.goo.ne.jp/tukinosizukukirakira/d/20140616: ten bases up to 12 cm round.
BASE = "our guess, held against a published 20 min for a base, an advertising claim, and 2 h for ten small ones"
# http://gksagenda.blogspot.com/2011/12/my-one-handmade-gift.html and
# https://moviesandmeows.com/interlocking-square-temari/
TOTALS = "our guess, held against published totals: 3 to 4 h a novice's simple ball, about 12 h an all-over C8"


@dataclass(frozen=True)
class Assumption:
    """One figure the estimate rests on: from a quick hand to a slow one."""

    label: str
    low: float
    likely: float
    high: float
    unit: str
    source: str


@dataclass(frozen=True)
class Part:
    """One kind of work: how much of it, and the hours it takes."""

    label: str
    amount: float
    unit: str
    low: float
    likely: float
    high: float


@dataclass(frozen=True)
class Hours:
    """The whole, its parts, and what they rest on."""

    low: float
    likely: float
    high: float
    parts: tuple[Part, ...]
    assumptions: tuple[Assumption, ...]


# Each is a starting point, to be corrected by the maker's own logged sessions.  The published totals they are held
# against are the table of ``tests.reference.published_times``.
PER = {
    "core": Assumption("making the core ready", 60, 300, 1200, "s a ball", BASE),
    "yarn": Assumption("winding yarn", 2, 4, 8, "s a metre", BASE),
    "wrap": Assumption("winding thread over it", 2.5, 5, 10, "s a metre", BASE),
    "pins": Assumption("measuring and setting a marking pin", 30, 50, 90, "s a pin", GUESS),
    "marking": Assumption("laying marking thread", 60, 100, 180, "s a metre", GUESS),
    "tacks": Assumption("tacking a crossing of the marking", 15, 25, 45, "s a crossing", GUESS),
    "bites": Assumption("laying a thread to the next line and taking the bite", 12, 18, 36, "s a bite", TOTALS),
    "turning": Assumption("turning the ball in the hand", 40, 100, 200, "s a metre turned", GUESS),
    "laying": Assumption("drawing thread through and laying it", 15, 25, 45, "s a metre", GUESS),
    "under": Assumption("passing the needle under threads laid before", 4, 8, 20, "s a pass", GUESS),
    "starts": Assumption("threading, starting and ending a piece", 40, 75, 150, "s a start", GUESS),
}


def hours(work: Mapping[str, tuple[float, str]], per: Mapping[str, Assumption] = PER) -> Hours:
    """Hours for amounts of each kind of work: kind to (amount, unit of the amount)."""
    parts = tuple(_part(per[kind], amount, unit) for kind, (amount, unit) in work.items())
    return Hours(
        sum(part.low for part in parts),
        sum(part.likely for part in parts),
        sum(part.high for part in parts),
        parts,
        tuple(per[kind] for kind in work),
    )


def _part(each: Assumption, amount: float, unit: str) -> Part:
    low, likely, high = (amount * seconds / 3600 for seconds in (each.low, each.likely, each.high))
    return Part(each.label, amount, unit, low, likely, high)
