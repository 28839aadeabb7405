"""The make-up of a price against published sums, exact decimals and its own lines."""

import json
from decimal import Decimal
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from polestitch.costing import Costs, Piece, Span, ThreadNeed, costs_of, costs_schema, left_an_hour, make_up
from polestitch.costing.sums import NOTHING, Sum, paid, range_said, said, to_step
from polestitch.costing.told import price_json
from polestitch.errors import DesignError

YARD = 914.4  # mm, exact
HOURS = Span(5.0, 8.0, 12.0)
NAVY = ThreadNeed("Navy", "#1d2b45", 32 * YARD, 25 * YARD)
PIECE = Piece("A ball", 250.0, HOURS, (NAVY,))


def costs(**said_: Any) -> Costs:
    return costs_of(json.dumps({"rate": "20 EUR", **said_}))


def net_of(amount: str, **more: Any) -> Any:
    """A price whose net is just ``amount``."""
    piece = Piece("A ball", 250.0, Span(0.0, 0.0, 0.0), ())
    return make_up(piece, costs(items=[{"name": "all of it", "cost": amount}], **more))


@pytest.mark.parametrize(
    ("net", "percent", "price", "commission"),
    [
        ("150 EUR", 15, "176.47", "26.47"),
        ("2850 EUR", 30, "4071.43", "1221.43"),
    ],
)
def test_commission_comes_out_of_the_selling_price(net: str, percent: int, price: str, commission: str) -> None:
    """Worked examples of https://www.simetric.co.uk/si_add_commission.htm: 150 / 0.85 and 2850 / 0.7."""
    made = net_of(net, commission=percent)
    assert made.price.likely == Decimal(price)
    assert made.of("commission").likely == Decimal(commission)


def test_adding_the_percentage_instead_is_told_as_short() -> None:
    """The same page: 100 + 15 % = 115, less 15 % = 97.75, so 2.25 are missing."""
    piece = Piece("A ball", 250.0, Span(0.0, 0.0, 0.0), ())
    asked = costs(items=[{"name": "all of it", "cost": "100 GBP"}], rate="20 GBP", commission=15)
    sentence = next(line for line in price_json(piece, asked)["said"] if "not the same" in line)
    assert "115.00 GBP" in sentence
    assert "2.25 GBP would be missing" in sentence


def test_thread_is_told_by_the_metre_and_by_whole_skeins() -> None:
    """32 of 25 yards: 1.28 skeins used and 2 bought, by hand, at 2.40 each."""
    priced = [{"name": "navy", "price": "2.40 EUR"}]
    by_metre, whole = make_up(PIECE, costs(threads=priced)), make_up(PIECE, costs(threads=priced, whole_skeins=True))
    assert by_metre.of("threads").likely == Decimal("3.07")  # 3.072
    assert whole.of("threads").likely == Decimal("4.80")
    assert (by_metre.threads[0].used, by_metre.threads[0].bought) == (Decimal("3.07"), Decimal("4.80"))


def test_a_thread_without_a_price_is_told_and_not_invented() -> None:
    told = price_json(PIECE, costs())
    assert told["threads"][0]["used"] is None
    assert told["not_counted"] == ["No price yet, so not in the sum: Navy."]
    assert not [line for line in told["lines"] if line["kind"] == "threads"]


def test_a_thread_priced_in_other_money_stands_apart() -> None:
    told = price_json(PIECE, costs(threads=[{"name": "navy", "price": "2.40 GBP"}]))
    assert told["threads"][0]["used"] == "3.07"
    assert not told["threads"][0]["counted"]
    assert told["price"]["likely"] == "160.00"
    assert told["not_counted"] == [
        '"Navy" is priced in GBP, so it is not added to an amount in EUR. By the metre: 3.07 GBP.'
    ]


def test_a_priced_thread_whose_skein_nobody_measured_is_told() -> None:
    piece = Piece("A ball", 250.0, HOURS, (ThreadNeed("Navy", "#1d2b45", 1000.0, None),))
    told = price_json(piece, costs(threads=[{"name": "navy", "price": "2.40 EUR"}]))
    assert "how long its skein is" in told["not_counted"][0]


def test_every_part_by_hand() -> None:
    """8 h at 20 = 160; a box 4; 10 % = 16.40; 1.50 an hour = 12; 3 for the piece; margin 5 % = 9.77; 205.17 in all."""
    made = make_up(
        PIECE,
        costs(
            items=[{"name": "box", "cost": "4 EUR"}],
            overhead={"percent": 10, "per_hour": "1.50 EUR", "per_piece": "3 EUR"},
            margin=5,
            commission=40,
            step="5 EUR",
        ),
    )
    assert made.net.likely == Decimal("205.17")
    assert made.price.likely == Decimal("340")  # 205.17 / 0.6 = 341.95
    assert made.of("commission").likely == Decimal("136.00")
    assert made.of("rounding").likely == Decimal("-1.17")


money = st.decimals(0, 500, places=2).map(lambda amount: f"{amount:.2f} EUR")
percent = st.decimals(0, 95, places=1).map(float)
any_costs = st.fixed_dictionaries(
    {"rate": money, "margin": percent, "commission": percent},
    optional={
        "items": st.lists(st.fixed_dictionaries({"name": st.just("box"), "cost": money}), max_size=3),
        "overhead": st.fixed_dictionaries({"percent": percent}, optional={"per_hour": money, "per_piece": money}),
        "step": st.sampled_from(["0.05 EUR", "1 EUR", "5 EUR", "10 EUR"]),
    },
)
spans = st.lists(st.floats(0.1, 200), min_size=3, max_size=3).map(lambda ends: Span(*sorted(ends)))


@given(any_costs, spans)
@settings(max_examples=60, deadline=None)
def test_the_lines_add_up_to_the_price_to_the_last_cent(said_: dict[str, Any], hours: Span) -> None:
    made = make_up(Piece("A ball", 250.0, hours, (NAVY,)), costs(**said_))
    whole = NOTHING
    for line in made.lines:
        whole = whole.plus(line.sum)
    assert whole == made.price
    assert made.price.low <= made.price.likely <= made.price.high


@given(any_costs, spans)
@settings(max_examples=60, deadline=None)
def test_at_the_price_without_margin_and_rounding_her_rate_is_left(said_: dict[str, Any], hours: Span) -> None:
    asked = costs(**{**said_, "margin": 0, "step": "0.01 EUR"})
    made = make_up(Piece("A ball", 250.0, Span(hours.likely, hours.likely, hours.likely), ()), asked)
    left = left_an_hour(made.price.likely, made, asked)
    assert left is not None
    # Some lines are rounded to the cent, and a cent of few hours is more than one an hour.
    assert abs(left.likely - asked.rate.amount) <= Decimal("0.05") / made.hours.likely + Decimal("0.01")


def test_less_than_the_materials_leaves_less_than_nothing_an_hour() -> None:
    asked = costs(items=[{"name": "box", "cost": "40 EUR"}], at="24 EUR")
    told = price_json(PIECE, asked)
    assert told["at"]["left_an_hour"] == {"low": "-3.20", "likely": "-2.00", "high": "-1.33"}
    assert "−3.20 EUR an hour are left if the ball takes 5.00 h, and −1.33 EUR if" in told["at"]["said"]


def test_an_hour_may_cost_nothing() -> None:
    made = make_up(PIECE, costs(rate="0 EUR"))
    assert made.price == NOTHING
    assert price_json(PIECE, costs(rate="0 EUR"))["price"]["likely"] == "0.00"


def test_tax_is_left_to_her_adviser_unless_she_types_it() -> None:
    """20 % of 160 is 32."""
    without, with_ = price_json(PIECE, costs()), price_json(PIECE, costs(tax={"name": "sales tax", "percent": 20}))
    assert without["tax"] is without["with_tax"] is None
    assert any("ask your adviser" in line for line in without["said"])
    assert (with_["tax"]["likely"], with_["with_tax"]["likely"]) == ("32.00", "192.00")
    assert any("by your own figure" in line for line in with_["said"])


def test_a_shop_that_buys_asks_its_own_factor() -> None:
    assert price_json(PIECE, costs(shop_factor=2.2))["shop"]["likely"] == "352.00"


def test_yen_have_no_digits_and_dinars_have_three() -> None:
    """Minor units of ISO 4217 (from memory): JPY 0, KWD 3."""
    assert make_up(PIECE, costs(rate="1501 JPY", commission=30)).price.likely == Decimal(17154)  # 12 008 / 0.7
    assert make_up(PIECE, costs(rate="6.125 KWD", commission=30)).price.likely == Decimal("70.000")


@pytest.mark.parametrize(("amount", "rounded"), [("2.345", "2.35"), ("2.344", "2.34"), ("-2.345", "-2.35")])
def test_half_a_cent_goes_up_as_on_a_bill(amount: str, rounded: str) -> None:
    assert str(paid(Decimal(amount), "EUR")) == rounded


def test_a_small_sum_is_never_rounded_away() -> None:
    assert to_step(Decimal("1.20"), Decimal(5)) == 5
    assert to_step(Decimal(0), Decimal(5)) == 0
    assert to_step(Decimal("12.50"), Decimal(5)) == 15


def test_amounts_are_said_with_their_digits() -> None:
    assert said(Decimal("-2"), "EUR") == "−2.00 EUR"
    assert range_said(Sum(Decimal(1), Decimal(2), Decimal(3)), "JPY") == "1–3 JPY"


def test_the_base_is_priced_by_its_winding_plan() -> None:
    base = {"core": "hulls", "packs": [{"name": "sewing thread", "price": "2.20 EUR", "metres": 500}]}
    told = price_json(PIECE, costs(base=base))
    priced = {part["name"]: part["cost"] for part in told["base"]}
    assert priced["hulls"] is None
    metres = [float(end) for end in next(p["amount"] for p in told["base"] if p["cost"])[:-2].split("–")]
    assert float(priced["sewing thread"]["high"]) == pytest.approx(metres[1] / 500 * 2.2, abs=0.01)
    assert "hulls of the base" in told["not_counted"][0]


REFUSED = [
    ({"rate": "20 EUR", "commission": 100}, "commission", "takes the whole price"),
    ({"rate": "20 EUR", "commission": 140}, "commission", "at most 100"),
    ({"rate": "20"}, "rate", "no amount of money"),
    ({"rate": 20}, "rate", ""),
    ({"commission": 10}, "rate", "is missing"),
    ({"rate": "20 EUR", "items": [{"name": "box", "cost": "4 USD"}]}, "items[0].cost", "is in USD"),
    ({"rate": "20 EUR", "step": "5 USD"}, "step", "is in USD"),
    ({"rate": "20 EUR", "step": "0 EUR"}, "step", "is nothing"),
    ({"rate": "20 EUR", "comission": 10}, "comission", 'did you mean "commission"'),
    ({"rate": "20 EUR", "base": {"packs": [{"name": "hulls", "price": "2 EUR"}]}}, "base.packs[0]", "grams or metres"),
    ({"rate": "20 EUR", "margin": -5}, "margin", "at least 0"),
    ({"rate": "20 EUR", "overhead": {"percent": "much"}}, "overhead.percent", ""),
    ({"rate": "20.005 EUR"}, "rate", "more digits"),
]


@pytest.mark.parametrize(("said_", "where", "words"), REFUSED)
def test_what_is_wrong_is_one_sentence_at_its_place(said_: dict[str, Any], where: str, words: str) -> None:
    with pytest.raises(DesignError) as wrong:
        costs_of(json.dumps(said_))
    assert wrong.value.where == where
    assert words in wrong.value.what
    assert "\n" not in wrong.value.what


@pytest.mark.parametrize(
    ("base", "words"),
    [
        ({"core": "marble"}, "is not known here"),
        ({"packs": [{"name": "wire", "price": "1 EUR", "grams": 10}]}, "is not in this base"),
        ({"packs": [{"name": "hulls", "price": "1 EUR", "metres": 10}]}, "give grams"),
        ({"core_around": "249 mm"}, "take a core of at most"),
    ],
)
def test_a_base_that_cannot_be_wound_is_refused(base: dict[str, Any], words: str) -> None:
    asked = costs(base=base)
    with pytest.raises(DesignError, match=words):
        make_up(PIECE, asked)


def test_the_schema_knows_every_word() -> None:
    made = costs_schema()
    assert set(made["properties"]) == set(Costs.model_fields)
    assert made["required"] == ["rate"]
