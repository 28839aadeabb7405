"""Figures that carry their doubt: low, likely and high.

In: figures.  Out: ``Range`` records, and their words.  Four of five makers, or balls, fall between low and high.
"""

import math
from collections.abc import Callable
from dataclasses import dataclass

INSIDE = 0.8  # of a hundred cases, eighty fall between low and high
Z = 1.2815515655446004  # of the standard normal law, four fifths lie within so many deviations


@dataclass(frozen=True)
class Range:
    """What a figure likely is, and between which two it lies in four cases of five."""

    low: float
    likely: float
    high: float

    def times(self, factor: float) -> "Range":
        """All three times a ``factor`` that is not negative."""
        return Range(self.low * factor, self.likely * factor, self.high * factor)

    def whole(self) -> "Range":
        """For counts: rounded outward, the likely one to the nearest."""
        low, high = math.floor(self.low + _SAME), math.ceil(self.high - _SAME)
        return Range(low, min(max(round(self.likely), low), high), high)

    def json(self, digits: int = 3) -> dict[str, float]:
        """``{low, likely, high}``; whole numbers stay whole."""
        return {name: _figure(getattr(self, name), digits) for name in ("low", "likely", "high")}

    def words(self, said: Callable[[float], str]) -> str:
        """``"22 m (20 m to 25 m)"``, or ``"22 m"`` alone where the three read alike."""
        low, likely, high = said(self.low), said(self.likely), said(self.high)
        return likely if low == likely == high else f"{likely} ({low} to {high})"


_SAME = 1e-9


def _figure(value: float, digits: int) -> float:
    return value if isinstance(value, int) else round(float(value), digits)


def sure(value: float) -> Range:
    """A figure without doubt."""
    return Range(value, value, value)
