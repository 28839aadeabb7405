"""Minutes of work as a range: a quick hand, most hands, a slow one.

In: nothing.  Out: ``Minutes``, and its words.
"""

from collections.abc import Iterable
from typing import Literal, NamedTuple

Hand = Literal["low", "likely", "high"]
HANDS: tuple[Hand, ...] = ("low", "likely", "high")


class Minutes(NamedTuple):
    """Minutes from a quick hand to a slow one."""

    low: float
    likely: float
    high: float

    def plus(self, other: "Minutes") -> "Minutes":
        """Both one after the other."""
        return Minutes(self.low + other.low, self.likely + other.likely, self.high + other.high)

    def times(self, factor: float) -> "Minutes":
        """The same at another pace."""
        return Minutes(self.low * factor, self.likely * factor, self.high * factor)

    def of(self, hand: Hand) -> float:
        """Minutes for one of the three hands."""
        return float(getattr(self, hand))


NONE = Minutes(0.0, 0.0, 0.0)


def added(ranges: Iterable[Minutes]) -> Minutes:
    """All of them one after another."""
    total = NONE
    for each in ranges:
        total = total.plus(each)
    return total


def time_said(minutes: float) -> str:
    """Such as ``"40 min"`` or ``"3 h 20"``: to 5 minutes from half an hour up, since nobody knows it better."""
    near = round(minutes) if minutes < 30 else 5 * round(minutes / 5)
    hours, rest = divmod(int(near), 60)
    return f"{rest} min" if hours == 0 else f"{hours} h {rest:02d}" if rest else f"{hours} h"


def range_said(minutes: Minutes) -> str:
    """The likely time, and in brackets from when to when."""
    return f"{time_said(minutes.likely)} ({time_said(minutes.low)} to {time_said(minutes.high)})"
