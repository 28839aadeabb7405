"""What a ball costs in time and money, for the studio.

In: a document's text (in a worker), her pace, her costs, her drawer.  Out: plain data as ``price --json`` prints it.
"""

from collections.abc import Mapping, Sequence
from decimal import Decimal, InvalidOperation
from typing import Any

from polestitch.costing import Costs, Pace, Piece, ThreadNeed, ThreadPrice, hours_ahead
from polestitch.costing.piece import piece_of
from polestitch.costing.sitting import work_in
from polestitch.costing.told import hours_json, price_json
from polestitch.document.lengths import Length
from polestitch.document.money import Money
from polestitch.store.drawer import Thread
from polestitch.studio.shown import made
from polestitch.workup import workup

SIGNS = {"€": "EUR", "£": "GBP"}  # a sign that stands for one currency alone
Ball = tuple[str, float, dict[str, float], tuple[ThreadNeed, ...]]


def ball_answer(text: str) -> Ball:
    """Name, size, amounts of work, thread; ``DesignError`` where the ball cannot be made.  Runs in a worker."""
    from polestitch.costing import pace

    work = workup(made(text))
    piece = piece_of(work, pace())
    return piece.name, piece.around_mm, work_in(work.estimate.hours), piece.threads


def price_answer(ball: Ball, known: Pace, costs: Costs | None, drawer: Sequence[Thread]) -> dict[str, Any]:
    """Hours, and the price where she has said what she asks."""
    name, around_mm, work, threads = ball
    told = {"name": name, "around_mm": round(around_mm, 3), "hours": hours_json(known, work), "price": None}
    if costs is None:
        return told
    prices, notes = drawer_prices(drawer, threads, costs.currency)
    piece = Piece(name, around_mm, hours_ahead(known, work), threads)
    price = price_json(piece, costs.model_copy(update={"threads": prices}))
    return {**told, "price": {**price, "not_counted": [*price["not_counted"], *notes]}}


def drawer_prices(
    drawer: Sequence[Thread], threads: Sequence[ThreadNeed], currency: str
) -> tuple[tuple[ThreadPrice, ...], list[str]]:
    """Prices the drawer has for these threads, and what is to be said of them."""
    owned: dict[str, Thread] = {}
    for mine in drawer:
        owned.setdefault(mine.words.name.casefold(), mine)
    found, odd, bare = [], list[str](), list[str]()
    for need in threads:
        mine_ = owned.get(need.name.casefold())
        if mine_ is None or mine_.words.price is None or not need.mm > 0:
            continue
        said = (mine_.words.currency or "").strip()
        money = _money(mine_.words.price, SIGNS.get(said, said) or currency)
        if money is None:
            odd.append(f'"{need.name}" is priced in "{said}"; write three letters such as {currency} in the drawer.')
            continue
        bare += [] if said else [need.name]
        found.append(_priced(need, mine_, money))
    note = f"Prices of your drawer that name no currency are taken to be in {currency}." if bare else ""
    return tuple(found), [*odd, *([note] if note else [])]


def _priced(need: ThreadNeed, mine: Thread, money: Money) -> ThreadPrice:
    skein = mine.words.skein_mm
    return ThreadPrice(name=need.name, price=money, skein=Length(f"{skein:.1f} mm") if skein else None)


def _money(price: float, currency: str) -> Money | None:
    try:
        return Money.of(Decimal(repr(price)), currency.upper())
    except (ValueError, InvalidOperation):
        return None


def plain_costs(costs: Costs) -> Mapping[str, Any]:
    """Her costs as they are kept: thread is priced in the drawer, and the paper is chosen when it is printed."""
    return costs.model_dump(mode="json", exclude={"threads", "paper", "at"}, exclude_none=True)
