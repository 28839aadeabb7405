"""The price page: one page, on the paper, every figure of the make-up on it."""

import json
from decimal import Decimal
from typing import Any

import pytest

from polestitch.costing import Piece, Span, ThreadNeed, costs_of, pace
from polestitch.costing.told import hours_json, price_json
from polestitch.sheets.price_bar import BAR, make_up_bar, parts_of
from polestitch.sheets.price_page import price_pdf, price_sheets
from polestitch.sheets.sheet import EDGE, Path, Text, paper_named
from tests.sheets.paper import outside, overlapping

WORK = {"core": 1.0, "yarn": 90.0, "wrap": 400.0, "pins": 20.0, "bites": 400.0, "laying": 30.0, "starts": 24.0}


def told(threads: int = 2, items: int = 1, name: str = "A ball", **more: Any) -> dict[str, Any]:
    needs = tuple(ThreadNeed(f"thread {k}", "#a33a2a", 9000.0 + k, 22860.0) for k in range(threads))
    asked = {
        "rate": "18 EUR",
        "threads": [{"name": "thread 0", "price": "2.40 EUR"}, {"name": "thread 1", "price": "2.40 GBP"}],
        "base": {"packs": [{"name": "thin yarn", "price": "4.50 EUR", "grams": 50}]},
        "items": [{"name": f"item {k}", "cost": "1.25 EUR"} for k in range(items)],
        "overhead": {"percent": 10, "per_hour": "1 EUR", "per_piece": "2 EUR"},
        "margin": 5,
        "commission": 40,
        "step": "5 EUR",
        "shop_factor": 2,
        "at": "180 EUR",
        **more,
    }
    piece = Piece(name, 250.0, Span(4.0, 6.0, 9.0), needs)
    price = price_json(piece, costs_of(json.dumps(asked)))
    return {"name": name, "around_mm": 250.0, "hours": hours_json(pace(), WORK), "price": price}


@pytest.mark.parametrize("paper", ["a4", "letter"])
@pytest.mark.parametrize(("threads", "items", "name"), [(0, 0, "A ball"), (2, 1, "A ball"), (60, 40, "Long " * 40)])
def test_it_is_one_page_that_keeps_to_the_paper(paper: str, threads: int, items: int, name: str) -> None:
    sheets = price_sheets(told(threads, items, name), paper)
    assert len(sheets) == 1
    assert outside(sheets[0], EDGE) == []
    assert overlapping(sheets[0]) == []


def test_every_line_and_sentence_is_on_it() -> None:
    made = told()
    page = " ".join(mark.text for mark in price_sheets(made)[0].marks if isinstance(mark, Text))
    for line in made["price"]["lines"]:
        assert line["label"] in page
        assert line["likely"] in page
    for sentence in (*made["price"]["said"], *made["price"]["not_counted"], made["price"]["at"]["said"]):
        assert sentence in page


def test_the_bar_is_shared_out_as_the_price_is() -> None:
    """Widths against amounts; together they are the whole bar."""
    price = told()["price"]
    boxes = [mark.box for mark in make_up_bar(price, 180.0).marks if isinstance(mark, Path)]
    amounts = [amount for _, amount in parts_of(price)]
    whole = sum(amounts, Decimal(0))
    assert len(boxes) == len(amounts)
    for (left, top, right, bottom), amount in zip(boxes, amounts, strict=True):
        assert right - left == pytest.approx(180 * float(amount / whole))
        assert bottom - top == pytest.approx(BAR)
    assert boxes[-1][2] == pytest.approx(180.0)


def test_a_price_of_nothing_has_no_bar() -> None:
    made = told(0, 0, rate="0 EUR", base=None, overhead={}, at=None, step=None)
    assert made["price"]["price"]["likely"] == "0.00"
    assert make_up_bar(made["price"], 180.0).height == 0
    assert len(price_sheets(made)) == 1


def test_the_same_figures_make_the_same_file() -> None:
    assert price_pdf(told()) == price_pdf(told())
    assert paper_named("letter").width > paper_named("a4").width
