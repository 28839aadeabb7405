"""What sizes a ball and its maker's settings can have: every limit of the document in one place.

In: lengths or their text.  Out: millimetres, or a ``DesignError`` that names the limits.
A bead of 30 mm and a ball of 3 m round are common sense, no source: both are beyond what is stitched.
"""

import math
from typing import NamedTuple

from polestitch.document.lengths import Length
from polestitch.errors import DesignError

SMALLEST_AROUND_MM = 30.0
LARGEST_AROUND_MM = 3000.0
AROUND_HELP = (
    f'give a circumference from {SMALLEST_AROUND_MM:g} mm to {LARGEST_AROUND_MM:g} mm, such as "247 mm", '
    '"24.7 cm" or "9.7 in"'
)


class Limits(NamedTuple):
    """Least and most in mm, and a length to offer."""

    least: float
    most: float
    example: str


WORKING_LENGTH = Limits(50, 20_000, "1 m")
STRETCH = Limits(0.1, 50, "2 mm")
BITE = Limits(0.1, 50, "1.5 mm")
ENDS = Limits(0, 500, "40 mm")
DIP = Limits(0, 50, "1 mm")
PITCH = Limits(0.02, 20, "0.9 mm")
SPREAD = Limits(0, 20, "0.1 mm")
SKEIN = Limits(1, math.inf, "25 m")
HAVE = Limits(0, math.inf, "10 m")


def around_mm(around: Length | str, where: str) -> float:
    """Millimetres of a circumference; ``DesignError`` at ``where`` if it is none that a ball can have."""
    try:
        mm = Length(str(around).strip()).mm
    except ValueError:
        mm = None
    if mm is None:
        raise DesignError(where, f'"{str(around)[:40]}" is no circumference; {AROUND_HELP}')
    if not SMALLEST_AROUND_MM <= mm <= LARGEST_AROUND_MM:
        raise DesignError(where, f'"{str(around)[:40]}" is not the size of a ball; {AROUND_HELP}')
    return mm


def plain_mm(length: Length, where: str, allowed: Limits) -> float:
    """Millimetres of a length that needs no origin; ``DesignError`` at ``where`` outside what is allowed."""
    mm = length.mm
    if mm is None or not allowed.least <= mm <= allowed.most:
        limits = f"from {allowed.least:g} mm" + (f" to {allowed.most:g} mm" if math.isfinite(allowed.most) else " up")
        raise DesignError(where, f'"{length}" cannot be used here; give a length {limits}, such as "{allowed.example}"')
    return mm
