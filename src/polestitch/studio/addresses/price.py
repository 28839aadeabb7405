"""Addresses of time and money: her costs, hours and price of a design, the page to print."""

import json
from typing import Annotated, Any, Literal

from fastapi import Path, Query, Response

from polestitch.costing import Costs, costs_of
from polestitch.document.filenames import file_stem
from polestitch.document.money import Money
from polestitch.errors import DesignError
from polestitch.sheets.price_page import price_pdf
from polestitch.store import costs, designs, drawer
from polestitch.studio import messages_price as say
from polestitch.studio.addresses.reading import documented
from polestitch.studio.her_sittings import her_pace
from polestitch.studio.pricing import ball_answer, plain_costs, price_answer
from polestitch.studio.studio import Here, Studio

Id = Annotated[str, Path(pattern=r"^[0-9a-f]{32}$")]
At = Annotated[str | None, Query(max_length=40, description="A price to see what is left an hour at it")]


def her_costs(here: Here) -> say.HerCosts:
    """What she pays and asks."""
    return say.HerCosts(costs=_kept(here))


def say_costs(here: Here, said: dict[str, Any]) -> say.HerCosts:
    """Keep what she pays and asks."""
    read = costs_of(json.dumps(said))
    costs.keep_costs(here.store, dict(plain_costs(read)))
    return say.HerCosts(costs=_kept(here))


async def time_and_price(here: Here, id: Id, at: At = None) -> say.TimeAndPrice:
    """Hours and price of a design as it stands now."""
    return say.TimeAndPrice.model_validate(await _told(here, id, at))


async def price_file(here: Here, id: Id, paper: Literal["a4", "letter"] = "a4", at: At = None) -> Response:
    """The make-up of the price as a page to print."""
    told = await _told(here, id, at)
    if told["price"] is None:
        raise DesignError("costs", "there is no price yet; say first what you ask for an hour")
    stem = file_stem(told["name"])
    headers = {"content-disposition": f'attachment; filename="{stem}-price.pdf"'}
    data = await here.painters.answer(price_pdf, told, paper)
    return Response(data, media_type="application/pdf", headers=headers)


async def _told(here: Studio, id: str, at: str | None) -> dict[str, Any]:
    _, raw = await documented(designs.document, here.store, id)
    ball = await here.bench.answer(ball_answer, designs.document_text(raw))
    return await documented(_priced, here, ball, at)


def _priced(here: Studio, ball: Any, at: str | None) -> dict[str, Any]:
    asked = _kept(here)
    if asked is not None and at is not None:
        asked = asked.model_copy(update={"at": _money(at, asked.currency)})
    return price_answer(ball, her_pace(here.store), asked, drawer.threads(here.store))


def _kept(here: Studio) -> Costs | None:
    said = costs.kept_costs(here.store)
    return None if said is None else costs_of(json.dumps(said))


def _money(text: str, currency: str) -> Money:
    """A price as she types it, with or without its currency."""
    try:
        money = Money(text if text.strip()[-3:].isalpha() else f"{text} {currency}")
    except ValueError as error:
        raise DesignError("at", str(error)) from None
    if money.currency != currency:
        raise DesignError("at", f"is in {money.currency}, and your rate in {currency}; give both in one")
    return money
