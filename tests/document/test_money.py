"""Money as text."""

from decimal import Decimal

import pytest
from pydantic import TypeAdapter

from polestitch.document.money import Money, digits_of

MONEY = TypeAdapter(Money)


@pytest.mark.parametrize(
    ("text", "said"),
    [("240 EUR", "240 EUR"), ("12,50 gbp", "12.50 GBP"), ("18000JPY", "18000 JPY"), ("1.5 KWD", "1.500 KWD")],
)
def test_money_is_read_as_she_writes_it_and_written_one_way(text: str, said: str) -> None:
    assert str(Money(text)) == said
    assert MONEY.validate_json(MONEY.dump_json(Money(text))) == Money(text)


@pytest.mark.parametrize("text", ["", "240", "EUR 240", "-3 EUR", "12.345 EUR", "1.5 JPY", "9" * 50 + " EUR"])
def test_what_is_no_money_is_refused_with_a_remedy(text: str) -> None:
    with pytest.raises(ValueError, match="write it like"):
        Money(text)


def test_sums_are_exact_and_of_one_currency() -> None:
    assert Money("0.10 EUR") + Money("0.20 EUR") == Money("0.30 EUR")
    assert Money("9 EUR") < Money("10 EUR")
    with pytest.raises(ValueError, match="two currencies"):
        Money("1 EUR") + Money("1 GBP")


def test_an_amount_is_rounded_half_up_to_what_can_be_paid() -> None:
    assert Money.of(Decimal("2.345"), "EUR") == Money("2.35 EUR")
    assert Money.of(Decimal("1234.5"), "JPY") == Money("1235 JPY")
    # ISO 4217, minor units (from memory): EUR 2, JPY 0, KWD 3.
    assert [digits_of(each) for each in ("EUR", "JPY", "KWD")] == [2, 0, 3]
