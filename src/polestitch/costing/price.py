"""What a price is made of, line by line, and what is left an hour at a price.

In: hours, threads, the ball's size; ``Costs``.  Out: ``MakeUp``, whose lines add up to the price to the last cent.

A venue keeps its commission out of the selling price, so the price is net / (1 - c); adding c to the net would leave
too little.  Each line is rounded half up to what can be paid, the price to her own step, and what the rounding does is
a line itself.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

from polestitch.costing.base_cost import Part, base_parts
from polestitch.costing.costs import Costs
from polestitch.costing.pace import Span
from polestitch.costing.sums import NOTHING, Sum, just, paid, to_step
from polestitch.costing.threads import ThreadCost, ThreadNeed, thread_costs

HUNDRED = Decimal(100)


@dataclass(frozen=True)
class Piece:
    """What is to be priced."""

    name: str
    around_mm: float
    hours: Span
    threads: tuple[ThreadNeed, ...]


@dataclass(frozen=True)
class Line:
    """One part of the price; ``kind`` groups lines in the bar."""

    kind: str
    label: str
    sum: Sum


@dataclass(frozen=True)
class MakeUp:
    """The price and its parts: ``lines`` add up to ``price``.

    ``net`` is what the price must bring her; ``taxed`` is the price with the tax she typed, if she did.
    """

    currency: str
    hours: Sum
    lines: tuple[Line, ...]
    threads: tuple[ThreadCost, ...]
    base: tuple[Part, ...]
    net: Sum
    price: Sum
    tax: Sum | None
    shop: Sum | None

    def of(self, *kinds: str) -> Sum:
        """Lines of these kinds together."""
        whole = NOTHING
        for line in self.lines:
            whole = whole.plus(line.sum) if line.kind in kinds else whole
        return whole

    @property
    def taxed(self) -> Sum | None:
        """Price and tax together."""
        return None if self.tax is None else self.price.plus(self.tax)


def make_up(piece: Piece, costs: Costs) -> MakeUp:
    """The price of a piece; ``DesignError`` for a base that cannot be wound."""
    hours = hours_sum(piece.hours)
    threads = thread_costs(piece.threads, costs.threads, costs.currency)
    base = base_parts(costs.base, piece.around_mm) if costs.base is not None else ()
    direct = [*_materials(costs, threads, base), Line("hours", "Hours", _money(costs, hours, costs.rate.amount))]
    cost = [*direct, *_overhead(costs, hours, _whole(direct))]
    margin = _percent(_whole(cost), costs.margin, costs.currency)
    own = [*cost, *([Line("margin", f"Margin, {plain(costs.margin)} % of the costs", margin)] if costs.margin else [])]
    net = _whole(own)
    price = net.each(lambda amount: asked(amount, costs))
    commission = _percent(price, costs.commission, costs.currency)
    rounding = Sum(*(p - c - n for p, c, n in zip(price, commission, net, strict=True)))
    last = [Line("rounding", "Rounding", rounding)] if any(rounding) else []
    if costs.commission:
        last.append(Line("commission", f"Commission, {plain(costs.commission)} % of the price", commission))
    tax = None if costs.tax is None else _percent(price, costs.tax.percent, costs.currency)
    shop = None if costs.shop_factor is None else _shop(net, costs, costs.shop_factor)
    return MakeUp(costs.currency, hours, (*own, *last), threads, base, net, price, tax, shop)


def asked(net: Decimal, costs: Costs) -> Decimal:
    """The selling price that leaves ``net`` after commission, rounded to her step."""
    price = net / (1 - costs.commission / HUNDRED)
    return paid(price if costs.step is None else to_step(price, costs.step.amount), costs.currency)


def left_an_hour(price: Decimal, made: MakeUp, costs: Costs) -> Sum | None:
    """What each hour brings at a price without tax, once commission, materials and overhead are paid.

    At few hours, likely, at many.  A margin is not taken out first: it is part of what is left.  None for no hours.
    """
    if not made.hours.low:
        return None
    net = price - paid(price * costs.commission / HUNDRED, costs.currency)
    materials = made.of("threads", "base", "items")
    return Sum(*(_left(net, *ends, costs) for ends in zip(made.hours, materials, strict=True)))


def _left(net: Decimal, hours: Decimal, materials: Decimal, costs: Costs) -> Decimal:
    over, each = costs.overhead, Decimal(0)
    each += hours * over.per_hour.amount if over.per_hour is not None else 0
    each += over.per_piece.amount if over.per_piece is not None else 0
    return paid(((net - each) / (1 + over.percent / HUNDRED) - materials) / hours, costs.currency)


def hours_sum(hours: Span) -> Sum:
    """Hours to the hundredth, as they are told, so that a reader's multiplication gives the same."""
    return Sum(*(Decimal(f"{end:.2f}") for end in (hours.low, hours.likely, hours.high)))


def plain(number: Decimal) -> str:
    """A percentage without idle noughts."""
    return f"{number.normalize():f}"


def _materials(costs: Costs, threads: Sequence[ThreadCost], base: Sequence[Part]) -> list[Line]:
    lines = []
    amounts = [cost.bought if costs.whole_skeins else cost.used for cost in threads if cost.counted]
    if amounts:
        label = "Thread, whole skeins" if costs.whole_skeins else "Thread, by the metre used"
        lines.append(
            Line(
                "threads", label, just(paid(sum((each or Decimal(0) for each in amounts), Decimal(0)), costs.currency))
            )
        )
    lines += [Line("base", f"Base: {part.name}", part.sum) for part in base if part.sum is not None]
    return [*lines, *(Line("items", item.name, just(paid(item.cost.amount, costs.currency))) for item in costs.items)]


def _overhead(costs: Costs, hours: Sum, direct: Sum) -> list[Line]:
    over, lines = costs.overhead, []
    if over.percent:
        told = f"Overhead, {plain(over.percent)} % of materials and hours"
        lines.append(Line("overhead", told, _percent(direct, over.percent, costs.currency)))
    if over.per_hour is not None:
        lines.append(Line("overhead", "Overhead by the hour", _money(costs, hours, over.per_hour.amount)))
    if over.per_piece is not None:
        lines.append(Line("overhead", "Overhead for the piece", just(paid(over.per_piece.amount, costs.currency))))
    return lines


def _shop(net: Sum, costs: Costs, factor: Decimal) -> Sum:
    """What a shop that bought at ``net`` would sell for."""
    return net.each(lambda amount: paid(amount * factor, costs.currency))


def _money(costs: Costs, hours: Sum, each: Decimal) -> Sum:
    return hours.each(lambda amount: paid(amount * each, costs.currency))


def _percent(sum_: Sum, percent: Decimal, currency: str) -> Sum:
    return sum_.each(lambda amount: paid(amount * percent / HUNDRED, currency))


def _whole(lines: Sequence[Line]) -> Sum:
    whole = NOTHING
    for line in lines:
        whole = whole.plus(line.sum)
    return whole
