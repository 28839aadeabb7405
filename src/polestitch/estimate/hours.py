"""Hours of work, as a range, with every assumption on the table.

In: counts of the work.  Out: ``Hours`` with its parts and the assumptions behind them.
Hours are hours of work: never days, since nobody works round the clock.
"""

from collections.abc import Mapping
from dataclasses import dataclass

PRACTICE = "common practice, no source"


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


# Each is a starting point, to be corrected by the maker's own logged sessions.  Together they are held
# against two published totals: 3 to 4 hours for a novice's simple ball, about 12 for an all-over C8.
PER = {
    "base": Assumption("winding the base", 1500, 2700, 5400, "s a ball", PRACTICE),
    "pins": Assumption("measuring and setting a marking pin", 30, 50, 90, "s a pin", PRACTICE),
    "marking": Assumption("laying marking thread", 60, 100, 180, "s a metre", PRACTICE),
    "tacks": Assumption("tacking a crossing of the marking", 15, 25, 45, "s a crossing", PRACTICE),
    "bites": Assumption("laying a thread to the next line and taking the bite", 15, 24, 40, "s a bite", PRACTICE),
    "laying": Assumption("drawing thread through and laying it", 15, 25, 45, "s a metre", PRACTICE),
    "starts": Assumption("threading, starting and ending a piece", 40, 75, 150, "s a start", PRACTICE),
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
