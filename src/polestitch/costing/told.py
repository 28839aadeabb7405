"""Hours and a price as plain data and sentences: what ``price --json`` prints and the sheet shows.

In: ``Pace``, ``MakeUp``, ``Costs``.  Out: a dict.  ``docs/json.md`` says what each key means.
"""

from collections.abc import Iterator, Mapping
from decimal import Decimal
from typing import Any

from polestitch.costing.costs import Costs
from polestitch.costing.pace import INSIDE, Pace, Span, hours_ahead, pace, times_estimate
from polestitch.costing.piece import piece_of
from polestitch.costing.price import MakeUp, Piece, left_an_hour, make_up, plain
from polestitch.costing.sitting import KINDS, work_in
from polestitch.costing.sums import Sum, paid, range_said, said
from polestitch.costing.threads import ThreadCost
from polestitch.document.said import listed
from polestitch.estimate.hours import PER
from polestitch.workup import WorkUp

MOST_NAMED = 8
TAX = "Tax is not included: ask your adviser which you owe, and on what."
NO_VERDICT = "These are sums of what you typed and of hours that are not known exactly. What you ask is yours to say."


def hours_json(known: Pace, work: Mapping[str, float]) -> dict[str, Any]:
    """Hours of a ball by her pace, how sure they are, and what they rest on."""
    hours = hours_ahead(known, work)
    return {
        **_span(hours),
        "inside": INSIDE,
        "without_sittings": _span(hours_ahead(pace(), work)),
        "sittings": known.sittings,
        "pieces": known.pieces,
        "logged": round(known.hours, 2),
        "left_out": known.left_out,
        "paces": [
            {"kind": kind, "label": PER[kind].label, "unit": PER[kind].unit, **_seconds(known, kind)}
            for kind in KINDS
            if work.get(kind, 0) > 0
        ],
        "said": list(_hours_said(known, hours)),
    }


def _span(span: Span) -> dict[str, float]:
    return {"low": round(span.low, 2), "likely": round(span.likely, 2), "high": round(span.high, 2)}


def _seconds(known: Pace, kind: str) -> dict[str, float]:
    times, likely = times_estimate(known, kind), PER[kind].likely
    return {name: round(getattr(times, name) * likely, 1) for name in ("low", "likely", "high")}


def _hours_said(known: Pace, hours: Span) -> Iterator[str]:
    yield f"In 8 of 10 such pieces the hours fall between {hours.low:.1f} and {hours.high:.1f}."
    if known.sittings:
        yield (
            f"From {_count(known.sittings, 'sitting')} of {_count(known.pieces, 'piece')}, {known.hours:.1f} hours in "
            "all; the more of them, the narrower."
        )
    else:
        yield "No sitting is known yet, so this is the estimate's own range; your logged sittings narrow it."
    if known.left_out:
        yield (
            f"{_count(known.left_out, 'sitting')} left out: more than six times longer or shorter than the work in it, "
            "as when a clock is left running."
        )
    yield "Hours of work, not days; breaks are not in them."


def _count(number: int, thing: str) -> str:
    return f"{number} {thing}{'' if number == 1 else 's'}"


def told_of(work: WorkUp, known: Pace, costs: Costs) -> dict[str, Any]:
    """Hours and price of a ball that was worked out."""
    hours, piece = work.estimate.hours, piece_of(work, known)
    return {
        "name": piece.name,
        "around_mm": round(piece.around_mm, 3),
        "hours": hours_json(known, work_in(hours)),
        "price": price_json(piece, costs),
    }


def price_json(piece: Piece, costs: Costs) -> dict[str, Any]:
    """The make-up of the price, and what is left an hour at it and at the price she asks about."""
    made = make_up(piece, costs)
    return {
        "currency": made.currency,
        "price": _sum(made.price),
        "net": _sum(made.net),
        "lines": [{"kind": line.kind, "label": line.label, **_sum(line.sum)} for line in made.lines],
        "threads": [_thread(cost) for cost in made.threads],
        "base": [
            {"name": part.name, "amount": part.amount, "cost": None if part.sum is None else _sum(part.sum)}
            for part in made.base
        ],
        "tax": None if made.tax is None else _sum(made.tax),
        "with_tax": None if made.taxed is None else _sum(made.taxed),
        "shop": None if made.shop is None else _sum(made.shop),
        "at": None if costs.at is None else _at(costs.at.amount, made, costs),
        "said": list(price_said(made, costs)),
        "not_counted": list(_not_counted(made)),
    }


def _sum(sum_: Sum) -> dict[str, str]:
    """Amounts as text: exact, never a float."""
    return {"low": str(sum_.low), "likely": str(sum_.likely), "high": str(sum_.high)}


def _thread(cost: ThreadCost) -> dict[str, Any]:
    return {
        "name": cost.need.name,
        "colour": cost.need.colour,
        "metres": round(cost.need.mm / 1000, 2),
        "skein_mm": cost.skein_mm,
        "skeins": cost.skeins,
        "price": None if cost.price is None else str(cost.price),
        "used": None if cost.used is None else str(cost.used),
        "bought": None if cost.bought is None else str(cost.bought),
        "currency": None if cost.price is None else cost.price.currency,
        "counted": cost.counted,
    }


def _at(at: Decimal, made: MakeUp, costs: Costs) -> dict[str, Any]:
    left, venue = left_an_hour(at, made, costs), paid(at * costs.commission / 100, costs.currency)
    shown = said(at, made.currency)
    words = f"At {shown} there are no hours to share it by."
    if left is not None:
        quick, slow = said(left.low, made.currency), said(left.high, made.currency)
        words = (
            f"At {shown}, once commission, materials and overhead are paid, {quick} an hour are left if the ball takes "
            f"{made.hours.low} h, and {slow} if it takes {made.hours.high} h."
        )
    return {
        "price": str(paid(at, made.currency)),
        "commission": str(venue),
        "left_an_hour": None if left is None else _sum(Sum(*sorted(left))),
        "said": words,
    }


def price_said(made: MakeUp, costs: Costs) -> Iterator[str]:
    """The make-up in sentences."""
    money = made.currency
    yield (
        f"{made.hours.low}–{made.hours.high} h at {said(costs.rate.amount, money)} an hour, and materials and overhead "
        f"as listed, come to {range_said(made.net, money)}."
    )
    if costs.commission:
        yield from _commission_said(made, costs)
    elif costs.step is not None:
        yield f"Rounded to the nearest {said(costs.step.amount, money)}: {range_said(made.price, money)}."
    if made.shop is not None and costs.shop_factor is not None:
        yield (
            f"A shop that buys the piece for {range_said(made.net, money)} and asks {plain(costs.shop_factor)} times "
            f"as much sells it for {range_said(made.shop, money)}."
        )
    if made.taxed is not None and costs.tax is not None:
        yield (
            f"With {costs.tax.name}, {plain(costs.tax.percent)} % on the price by your own figure: "
            f"{range_said(made.taxed, money)}. Ask your adviser whether that is right."
        )
    else:
        yield TAX
    yield NO_VERDICT


def _commission_said(made: MakeUp, costs: Costs) -> Iterator[str]:
    money, share = made.currency, costs.commission / 100
    added = paid(made.net.likely * (1 + share), money)
    short = made.net.likely - (added - paid(added * share, money))
    rounded = f", rounded to the nearest {said(costs.step.amount, money)}" if costs.step is not None else ""
    yield (
        f"The venue keeps {plain(costs.commission)} % of the selling price, so the price is what you need divided by "
        f"{plain(1 - share)}{rounded}: {range_said(made.price, money)}."
    )
    yield (
        f"Adding {plain(costs.commission)} % to what you need is not the same: {said(made.net.likely, money)} would "
        f"become {said(added, money)}, and after the venue's share {said(short, money)} would be missing."
    )


def _not_counted(made: MakeUp) -> Iterator[str]:
    bare = [cost.need.name for cost in made.threads if cost.price is None]
    bare += [f"{part.name} of the base ({part.amount})" for part in made.base if part.sum is None]
    if bare:
        more = [f"{len(bare) - MOST_NAMED} more"] if len(bare) > MOST_NAMED else []
        yield f"No price yet, so not in the sum: {listed([*bare[:MOST_NAMED], *more])}."
    for cost in made.threads:
        if cost.why:
            own = said(cost.used, cost.price.currency) if cost.used is not None and cost.price is not None else ""
            yield f"{cost.why} By the metre: {own}." if own else cost.why
