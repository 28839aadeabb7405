"""Lengths as they are told to a maker: first what a hand can set, then the exact value where it differs.

In: millimetres and her units.  Out: words.
"""

from collections.abc import Iterator, Sequence
from fractions import Fraction
from math import floor
from typing import Literal

from polestitch.document.lengths import MM
from polestitch.document.ranges import Range

Units = Literal["mm", "in"]
TENTHS = ("no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine")
SIXTEENTHS = 16  # of an inch: the finest marks of a common ruler
# Closer than this to the half millimetre, the exact value tells her nothing.
SAME_MM = 0.05


def set_length(mm: float, units: Units = "mm") -> str:
    """A length to set by hand: ``"12 mm (exactly 12.3)"``, or in inches ``"1/2 in (12.3 mm)"``."""
    if units == "in":
        return f"{_inches(mm)} in ({mm:.1f} mm)"
    half = floor(2 * mm + 0.5) / 2
    return f"{half:g} mm" if abs(half - mm) < SAME_MM else f"{half:g} mm (exactly {mm:.1f})"


def near_length(mm: float, units: Units = "mm") -> str:
    """A length to know, not to set: ``"12.3 mm"``, ``"4.1 m"``, or in inches and yards."""
    if units == "in":
        return f"{mm / MM['yd']:.1f} yd" if mm >= MM["yd"] else f"{mm / MM['in']:.2f} in"
    return (f"{mm / 1000:.1f} m" if mm >= 1000 else f"{mm:.1f} mm").replace(".0 ", " ")


def near_range(mm: Range, units: Units = "mm") -> str:
    """A length in doubt: ``"22 m (20 to 25)"``; the unit stands once, and one figure alone where all read alike."""
    likely, low, high = (near_length(figure, units) for figure in (mm.likely, mm.low, mm.high))
    if low == likely == high:
        return likely
    unit = likely.split(" ")[1]
    ends = (words.removesuffix(f" {unit}") for words in (low, high))
    return f"{likely} ({' to '.join(ends)})"


def in_ten(share: float) -> str:
    """A share of many cases in words, not more than it is: ``"three in ten"``, ``"fewer than one in twenty"``."""
    if share < 0.05:
        return "fewer than one in twenty"
    if share > 0.95:
        return "nearly all"
    return f"{TENTHS[max(1, floor(10 * share))]} in ten"


def _inches(mm: float) -> str:
    sixteenths = max(1, round(mm / MM["in"] * SIXTEENTHS))
    whole, part = divmod(sixteenths, SIXTEENTHS)
    words = [str(whole)] if whole else []
    return " ".join(words + ([str(Fraction(part, SIXTEENTHS))] if part else []))


def listed(names: Sequence[str]) -> str:
    """Names in a sentence: ``"N, S and centre 2"``."""
    return " and ".join(filter(None, [", ".join(names[:-1]), *names[-1:]]))


def in_short(names: Sequence[str], most: int = 12) -> str:
    """Names in a sentence; runs of one kind as "obi 1 to obi 8", and the rest of a very long list left out."""
    kept: list[str] = []
    for run in _runs(names):
        kept.extend([f"{run[0]} to {run[-1]}"] if len(run) > 2 else run)
    return listed(kept) if len(kept) <= most else f"{', '.join(kept[:most])} and so on, as on the chart"


def _runs(names: Sequence[str]) -> Iterator[list[str]]:
    """Names cut where they do not go on counting."""
    run: list[str] = []
    for name in names:
        if run and not _follows(run[-1], name):
            yield run
            run = []
        run.append(name)
    if run:
        yield run


def _follows(before: str, after: str) -> bool:
    (kind, _, number), (other, _, following) = before.rpartition(" "), after.rpartition(" ")
    return kind == other and number.isdigit() and following.isdigit() and int(following) == int(number) + 1
