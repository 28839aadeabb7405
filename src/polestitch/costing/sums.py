"""Exact sums of money as ranges, rounded once a line to what can be paid.

In: decimals.  Out: ``Sum``.  Half a minor unit is rounded up, as on a bill, so that every line can be checked by hand;
how many digits a currency has is ISO 4217's minor unit (``document/money.py``).
"""

from collections.abc import Callable
from decimal import ROUND_HALF_UP, Decimal
from typing import NamedTuple

from polestitch.document.money import digits_of

Each = Callable[[Decimal], Decimal]


class Sum(NamedTuple):
    """An amount from few hours to many."""

    low: Decimal
    likely: Decimal
    high: Decimal

    def plus(self, other: "Sum") -> "Sum":
        """Both together, end by end."""
        return Sum(*(mine + theirs for mine, theirs in zip(self, other, strict=True)))

    def each(self, change: Each) -> "Sum":
        """The same change at every end."""
        return Sum(*map(change, self))

    @property
    def certain(self) -> bool:
        """Whether it is one figure."""
        return self.low == self.high


NOTHING = Sum(Decimal(0), Decimal(0), Decimal(0))


def just(amount: Decimal) -> Sum:
    """An amount that is known."""
    return Sum(amount, amount, amount)


def paid(amount: Decimal, currency: str) -> Decimal:
    """Rounded half up to what can be paid."""
    return amount.quantize(Decimal(1).scaleb(-digits_of(currency)), ROUND_HALF_UP) + Decimal(0)


def to_step(amount: Decimal, step: Decimal) -> Decimal:
    """The nearest multiple of ``step``, half a step up; something never becomes nothing."""
    steps = (amount / step).quantize(Decimal(1), ROUND_HALF_UP)
    return step * max(steps, Decimal(1 if amount > 0 else 0))


def said(amount: Decimal, currency: str) -> str:
    """An amount as it is read: ``12.50 EUR``, with a minus sign where something is lacking."""
    rounded = paid(amount, currency)
    return f"{'−' if rounded < 0 else ''}{abs(rounded):.{digits_of(currency)}f} {currency}"


def range_said(sum_: Sum, currency: str) -> str:
    """``12.50–18.00 EUR``, or one figure."""
    low, high = said(sum_.low, currency), said(sum_.high, currency)
    if low == high:
        return low
    first = low.removesuffix(f" {currency}")
    return f"{first} to {high}" if "−" in low + high else f"{first}–{high}"
