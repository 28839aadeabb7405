"""What she pays and asks: her rate, prices of thread, other materials, overhead, margin, commission, rounding.

In: JSON text.  Out: a frozen ``Costs``; ``DesignError`` names the field.  All amounts are in the currency of ``rate``
but prices of thread, which are told apart where they are in another.
"""

import json
from decimal import Decimal
from typing import Annotated, Any, Literal

from pydantic import Field, ValidationError

from polestitch.document.design import Record
from polestitch.document.jsontext import json_object
from polestitch.document.lengths import Length
from polestitch.document.money import Money
from polestitch.document.sentences import design_error
from polestitch.errors import DesignError

Word = Annotated[str, Field(min_length=1, max_length=80)]
Percent = Annotated[Decimal, Field(ge=0, le=1000, max_digits=7, decimal_places=3)]
Share = Annotated[Decimal, Field(ge=0, le=100, max_digits=6, decimal_places=3)]
Factor = Annotated[Decimal, Field(ge=1, le=20, max_digits=5, decimal_places=3)]


class ThreadPrice(Record):
    """What a skein of one of the design's threads costs."""

    name: Annotated[Word, Field(description="The thread's name as the design has it")]
    price: Annotated[Money, Field(description="Of one skein, ball or card")]
    skein: Annotated[Length | None, Field(description="How much is on it; none: as the design says")] = None


class CostItem(Record):
    """Something that goes with the piece or wears out on it: a base, pins and needles, a stand, a box."""

    name: Word
    cost: Annotated[Money, Field(description="For one piece")]


class BasePack(Record):
    """What she buys of a material of the base: so much for so much."""

    name: Annotated[Word, Field(description="hulls, foam, thick yarn, thin yarn, sewing thread …, as winding names it")]
    price: Money
    grams: Annotated[float | None, Field(gt=0, le=100_000, description="How much is in it, by weight")] = None
    metres: Annotated[float | None, Field(gt=0, le=1_000_000, description="Or by length")] = None


class BaseCosts(Record):
    """The base as its winding plan has it, priced by what she buys."""

    core: Annotated[Word, Field(description="hulls, foam, soft or wadding")] = "hulls"
    core_around: Annotated[Length | None, Field(description="Circumference of a core she has")] = None
    packs: Annotated[tuple[BasePack, ...], Field(max_length=20)] = ()


class Overhead(Record):
    """What the room, the light, the stand at the fair cost; any of the three, or all."""

    percent: Annotated[Percent, Field(description="Of materials and hours together")] = Decimal(0)
    per_hour: Annotated[Money | None, Field(description="For each hour of work")] = None
    per_piece: Annotated[Money | None, Field(description="For each piece")] = None


class OwnTax(Record):
    """A rate she typed herself; nothing here knows any tax."""

    name: Word = "tax at the rate you typed"
    percent: Percent


class Costs(Record):
    """Everything a price is made of but the ball itself."""

    rate: Annotated[Money, Field(description="What she asks for an hour of work; its currency is that of the price")]
    threads: Annotated[tuple[ThreadPrice, ...], Field(max_length=60)] = ()
    whole_skeins: Annotated[bool, Field(description="Count whole skeins bought, not the metres used")] = False
    base: BaseCosts | None = None
    items: Annotated[tuple[CostItem, ...], Field(max_length=40)] = ()
    overhead: Overhead = Overhead()
    margin: Annotated[Percent, Field(description="Percent added to all costs")] = Decimal(0)
    commission: Annotated[Share, Field(description="Percent of the selling price that a venue keeps")] = Decimal(0)
    step: Annotated[Money | None, Field(description="The price is rounded to the nearest multiple of this")] = None
    shop_factor: Annotated[Factor | None, Field(description="A shop that buys sells for this many times its price")] = (
        None
    )
    tax: OwnTax | None = None
    at: Annotated[Money | None, Field(description="A price to see what is left an hour at it")] = None
    paper: Annotated[Literal["a4", "letter"], Field(description="Paper of the printed page")] = "a4"

    @property
    def currency(self) -> str:
        """The currency of the price."""
        return self.rate.currency


def costs_of(text: str | bytes, source: str = "costs") -> Costs:
    """The costs that ``text`` holds."""
    raw = json_object(text, source, "file of costs")
    try:
        read = Costs.model_validate_json(json.dumps(raw))
    except ValidationError as error:
        raise design_error(error, Costs) from None
    return checked(read)


def checked(costs: Costs) -> Costs:
    """The same costs, or ``DesignError`` for two currencies or a commission that takes all."""
    if costs.commission >= 100:
        raise DesignError("commission", "takes the whole price, so nothing could pay for the work; write less than 100")
    if costs.step is not None and not costs.step.amount:
        raise DesignError("step", f"is nothing; write a step such as 1 {costs.currency}, or leave it out")
    for where, money in _amounts(costs):
        if money.currency != costs.currency:
            raise DesignError(
                where, f"is in {money.currency}, the rate in {costs.currency}; give both in one, by your own exchange"
            )
    for k, pack in enumerate(costs.base.packs if costs.base else ()):
        if (pack.grams is None) == (pack.metres is None):
            raise DesignError(f"base.packs[{k}]", "needs either grams or metres, so that its price can be shared out")
    return costs


def costs_schema() -> dict[str, Any]:
    """JSON Schema of the costs, draft 2020-12."""
    made = Costs.model_json_schema()
    return {"$schema": "https://json-schema.org/draft/2020-12/schema", **made, "title": "Polestitch costs"}


def _amounts(costs: Costs) -> list[tuple[str, Money]]:
    """Every amount that is added up, with its place."""
    packs = costs.base.packs if costs.base else ()
    found: list[tuple[str, Money | None]] = [
        *((f"items[{k}].cost", item.cost) for k, item in enumerate(costs.items)),
        *((f"base.packs[{k}].price", pack.price) for k, pack in enumerate(packs)),
        ("overhead.per_hour", costs.overhead.per_hour),
        ("overhead.per_piece", costs.overhead.per_piece),
        ("step", costs.step),
        ("at", costs.at),
    ]
    return [(where, money) for where, money in found if money is not None]
