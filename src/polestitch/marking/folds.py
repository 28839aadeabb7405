"""How a maker finds a share of the strip: by folding, by measured parts, or by a length.

In: a share of the circumference (0 to 1).  Out: words.
Folding halves gives 2, 4, 8 and 16 parts; thirds and fifths are measured (common practice).
"""

import math
from fractions import Fraction
from functools import lru_cache

EXACT = 1e-9
FINEST_FOLD = 16  # five folds of paper no longer lie flat
MOST_PARTS = 64
NEAR_A_FOLD = 1 / 64  # of the strip: a fold further off than this helps nobody


def recipe(share: float, around_mm: float) -> str:
    """How to find ``share`` of a strip that is ``around_mm`` long, in a few words."""
    return _recipe(round(share, 12), around_mm)


@lru_cache(maxsize=1024)  # a marking of hundreds of faces has few distances, each many times
def _recipe(share: float, around_mm: float) -> str:
    exact = Fraction(share).limit_denominator(MOST_PARTS)
    if abs(float(exact) - share) > EXACT:
        return _nearest_fold(share, around_mm)
    parts, count = exact.denominator, exact.numerator
    counted = "" if count == 1 else f", take {count}"
    if parts <= FINEST_FOLD and _is_fold(parts):
        return f"fold the strip in {parts}{counted}"
    fold = _fold_before(parts)
    if fold == 1:
        return f"mark the strip in {parts} equal parts{counted}"
    return f"fold the strip in {fold}, mark each part in {parts // fold}{counted}"


def _is_fold(parts: int) -> bool:
    return parts & (parts - 1) == 0


def _fold_before(parts: int) -> int:
    """The folding that goes before the measured parts: the largest power of two in ``parts``."""
    return min(parts & -parts, FINEST_FOLD)


def _nearest_fold(share: float, around_mm: float) -> str:
    sixteenths = max(1, round(share * FINEST_FOLD))
    fold = Fraction(sixteenths, FINEST_FOLD)
    off = around_mm * (share - float(fold))
    if abs(off) > around_mm * NEAR_A_FOLD:
        return "measure it"
    return f"measure it, or fold {fold} and {'add' if off >= 0 else 'take off'} {abs(off):.1f} mm"


def to_half_mm(mm: float) -> float:
    """``mm`` to the nearest half millimetre, which is what a strip and a pin can do."""
    return math.floor(2 * mm + 0.5) / 2
