"""What the thread of a ball costs: by the metre used, and by whole skeins bought.

In: what the design takes of each thread; prices.  Out: ``ThreadCost``s.  A thread without a price, or with one in
another currency, is told and counted nowhere.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import ROUND_CEILING, Decimal

from polestitch.costing.costs import ThreadPrice
from polestitch.costing.sums import paid
from polestitch.document.money import Money


@dataclass(frozen=True)
class ThreadNeed:
    """What a design takes of one thread; ``skein_mm`` as the design says or as such thread is sold."""

    name: str
    colour: str
    mm: float
    skein_mm: float | None


@dataclass(frozen=True)
class ThreadCost:
    """``used`` and ``bought`` are in the currency of ``price``, and None where it cannot be told."""

    need: ThreadNeed
    price: Money | None
    skein_mm: float | None
    skeins: int | None
    used: Decimal | None
    bought: Decimal | None
    counted: bool
    why: str = ""


def thread_costs(needs: Sequence[ThreadNeed], prices: Sequence[ThreadPrice], currency: str) -> tuple[ThreadCost, ...]:
    """One for each thread that is used, in the design's order."""
    known: dict[str, ThreadPrice] = {}
    for price in prices:
        known.setdefault(price.name.casefold(), price)
    return tuple(_cost(need, known.get(need.name.casefold()), currency) for need in needs if need.mm > 0)


def _cost(need: ThreadNeed, priced: ThreadPrice | None, currency: str) -> ThreadCost:
    own = priced.skein.mm if priced is not None and priced.skein is not None else None
    skein = own or need.skein_mm
    skeins = None if not skein else int((_exact(need.mm) / _exact(skein)).to_integral_value(ROUND_CEILING))
    if priced is None:
        return ThreadCost(need, None, skein, skeins, None, None, False)
    if not skein or skeins is None:
        why = f'"{need.name}" has a price, but nobody said how long its skein is.'
        return ThreadCost(need, priced.price, None, None, None, None, False, why)
    each, mine = priced.price.amount, priced.price.currency
    used, bought = paid(each * _exact(need.mm) / _exact(skein), mine), paid(each * skeins, mine)
    apart = f'"{need.name}" is priced in {mine}, so it is not added to an amount in {currency}.'
    counted = mine == currency
    return ThreadCost(need, priced.price, skein, skeins, used, bought, counted, "" if counted else apart)


def _exact(mm: float) -> Decimal:
    """Lengths to a tenth of a millimetre, as they are told."""
    return Decimal(f"{mm:.1f}")
