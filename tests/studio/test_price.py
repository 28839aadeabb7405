"""Time and price over the wire: her costs, her drawer, her sittings, the page to print."""

from collections.abc import Sequence
from typing import Any

import pytest
from fastapi.testclient import TestClient

from polestitch.costing import ThreadNeed
from polestitch.store.drawer import Thread, Words
from polestitch.studio.pricing import drawer_prices

pytestmark = pytest.mark.slow
COSTS = {"rate": "18 EUR", "commission": 40, "items": [{"name": "box", "cost": "3 EUR"}]}
# Base, the rest of the marking, the first row, the others: each a quarter of the steps, a fifth to a half slower than
# estimated.
SAT = (40, 8, 8, 10)


@pytest.fixture
def design(bench: TestClient, bare: dict[str, Any]) -> str:
    made = bench.post("/api/designs", json={"from": "empty", "around": "20 cm"}).json()
    saved = bench.put(f"/api/designs/{made['id']}", json={"base": made["revision"], "document": bare, "tab": "t"})
    assert saved.status_code == 200
    return str(made["id"])


def event(n: int, minute: int, kind: str, **more: Any) -> dict[str, Any]:
    at = f"2026-11-30T{9 + minute // 60:02d}:{minute % 60:02d}:00Z"
    return {"id": f"{n:032x}", "device": "a", "seq": n, "clock": n, "at": at, "kind": kind, **more}


def sittings(steps: int, minutes: Sequence[int]) -> list[dict[str, Any]]:
    """All the steps, shared out over sittings that took so many ``minutes`` by her own word."""
    told: list[dict[str, Any]] = []

    def tell(minute: int, kind: str, **more: Any) -> str:
        told.append(event(len(told) + 1, minute, kind, **more))
        return str(told[-1]["id"])

    many = len(minutes)
    for one in range(many):
        begun = tell(100 * one, "sit", what="start")
        for step in range(steps * one // many, steps * (one + 1) // many):
            tell(100 * one + 1, "next", step=step)
        tell(100 * one + 2, "sit", what="stop")
        tell(100 * one + 3, "hours", sitting=begun, minutes=minutes[one])
    return told


def test_hours_narrow_as_she_sits_and_the_price_follows(bench: TestClient, design: str) -> None:
    address = f"/api/designs/{design}/price"
    before = bench.get(address).json()
    assert before["price"] is None
    assert before["hours"]["sittings"] == 0
    assert bench.get(f"{address}.pdf").status_code == 422
    assert bench.put("/api/costs", json=COSTS).json()["costs"]["rate"] == "18 EUR"
    piece = bench.post("/api/pieces", json={"name": "Mine", "design": design}).json()
    bench.post(f"/api/pieces/{piece['piece']['id']}/events", json={"events": sittings(piece["counts"]["steps"], SAT)})
    assert bench.patch(f"/api/pieces/{piece['piece']['id']}", json={"away": True}).status_code == 200
    after = bench.get(address, params={"at": "60"}).json()
    hours = after["hours"]
    assert (hours["sittings"], hours["left_out"], hours["pieces"]) == (4, 0, 1)
    assert hours["high"] / hours["low"] < before["hours"]["high"] / before["hours"]["low"]
    assert after["price"]["at"]["price"] == "60.00"
    labels = [line["kind"] for line in after["price"]["lines"]]
    assert labels == ["items", "hours", "commission"]
    assert bench.get(f"{address}.pdf", params={"paper": "letter", "at": "60"}).content.startswith(b"%PDF")


@pytest.mark.parametrize(
    ("said", "where"),
    [
        ({"rate": "18 EUR", "commission": 100}, "commission"),
        ({"rate": "18"}, "rate"),
        ({"rate": "18 EUR", "items": [{"name": "box", "cost": "3 USD"}]}, "items[0].cost"),
        ({}, "rate"),
    ],
)
def test_costs_that_cannot_be_are_refused_and_the_old_ones_stay(
    bench: TestClient, said: dict[str, Any], where: str
) -> None:
    bench.put("/api/costs", json=COSTS)
    refused = bench.put("/api/costs", json=said)
    assert (refused.status_code, refused.json()["where"]) == (422, where)
    assert bench.get("/api/costs").json()["costs"]["commission"] == "40"


@pytest.mark.parametrize("at", ["many", "60 USD", "-5"])
def test_a_price_that_is_none_is_told(bench: TestClient, design: str, at: str) -> None:
    bench.put("/api/costs", json=COSTS)
    refused = bench.get(f"/api/designs/{design}/price", params={"at": at})
    assert (refused.status_code, refused.json()["where"]) == (422, "at")


def test_the_drawer_s_prices_are_taken_and_odd_ones_told(bench: TestClient, design: str) -> None:
    bench.put("/api/costs", json=COSTS)
    words = {"name": "Red", "colour": "#b5472b", "skein_mm": 25000, "price": 2.4, "currency": "EUR"}
    thread = bench.post("/api/threads", json=words).json()
    told = bench.get(f"/api/designs/{design}/price").json()["price"]
    assert told["threads"][0]["bought"] == "2.40"
    bench.put(f"/api/threads/{thread['id']}", json={"currency": "crowns"})
    told = bench.get(f"/api/designs/{design}/price").json()["price"]
    assert told["threads"][0]["price"] is None
    assert 'priced in "crowns"' in told["not_counted"][-1]


def owned(name: str, price: float | None, currency: str | None) -> Thread:
    return Thread("a" * 32, Words(name, skein_mm=25000.0, price=price, currency=currency), 0.0, False, "")


def test_no_currency_is_taken_as_hers_and_said_and_no_price_stays_none() -> None:
    needs = tuple(ThreadNeed(name, "#112233", 1000.0, None) for name in ("one", "two", "three", "four"))
    drawer = [owned("One", 2.0, None), owned("two", None, None), owned("three", 2.345, "€")]
    prices, notes = drawer_prices(drawer, needs, "EUR")
    assert [(one.name, str(one.price)) for one in prices] == [("one", "2 EUR"), ("three", "2.35 EUR")]
    assert notes == ["Prices of your drawer that name no currency are taken to be in EUR."]
