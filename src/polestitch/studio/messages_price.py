"""What goes over the wire about time and money."""

from typing import Literal

from polestitch.costing import Costs
from polestitch.studio.messages import Message


class HerCosts(Message):
    """What she pays and asks, or nothing yet."""

    costs: Costs | None


class HourSpan(Message):
    """Hours; in 8 of 10 such pieces they fall between the ends."""

    low: float
    likely: float
    high: float


class KindPace(HourSpan):
    """Seconds for one of ``unit`` at a kind of work."""

    kind: str
    label: str
    unit: str


class HoursKnown(HourSpan):
    """Hours by her own sittings, and what they rest on."""

    inside: float
    without_sittings: HourSpan
    sittings: int
    pieces: int
    logged: float
    left_out: int
    paces: tuple[KindPace, ...]
    said: tuple[str, ...]


class MoneySpan(Message):
    """Exact amounts as text."""

    low: str
    likely: str
    high: str


class PriceLine(MoneySpan):
    """A part of the price."""

    kind: Literal["threads", "base", "items", "hours", "overhead", "margin", "rounding", "commission"]
    label: str


class ThreadOfPrice(Message):
    """What a thread costs."""

    name: str
    colour: str
    metres: float
    skein_mm: float | None
    skeins: int | None
    price: str | None
    used: str | None
    bought: str | None
    currency: str | None
    counted: bool


class PricedPart(Message):
    """A material of the base."""

    name: str
    amount: str
    cost: MoneySpan | None


class AtPrice(Message):
    """The other way: what is left an hour at a price."""

    price: str
    commission: str
    left_an_hour: MoneySpan | None
    said: str


class PriceMade(Message):
    """What a price is made of; ``lines`` add up to ``price``."""

    currency: str
    price: MoneySpan
    net: MoneySpan
    lines: tuple[PriceLine, ...]
    threads: tuple[ThreadOfPrice, ...]
    base: tuple[PricedPart, ...]
    tax: MoneySpan | None
    with_tax: MoneySpan | None
    shop: MoneySpan | None
    at: AtPrice | None
    said: tuple[str, ...]
    not_counted: tuple[str, ...]


class TimeAndPrice(Message):
    """Hours, and the price where she has said what she asks."""

    name: str
    around_mm: float
    hours: HoursKnown
    price: PriceMade | None
