"""Money as a maker writes it: ``"240 EUR"``, ``"12.50 GBP"``, ``"18000 JPY"``.

In: text.  Out: a frozen ``Money`` with an exact amount.  Digits after the point follow ISO 4217's minor units
(values from memory: none for JPY and KRW and a few more, three for KWD and its like, else two).
"""

import re
from decimal import ROUND_HALF_UP, Decimal
from functools import total_ordering
from typing import Any

from pydantic import GetCoreSchemaHandler, GetJsonSchemaHandler
from pydantic_core import CoreSchema, core_schema

_MONEY = re.compile(r"^\s*(?P<amount>\d{1,9}(?:[.,]\d{1,3})?)\s*(?P<currency>[A-Za-z]{3})\s*$")
_WHOLE = frozenset(
    ["BIF", "CLP", "DJF", "GNF", "ISK", "JPY", "KMF", "KRW", "PYG", "RWF", "UGX", "VND", "VUV", "XAF", "XOF", "XPF"]
)
_THOUSANDTHS = frozenset(["BHD", "IQD", "JOD", "KWD", "LYD", "OMR", "TND"])
HELP = 'write it like "240 EUR" or "12.50 GBP", with the three letters of the currency'


def digits_of(currency: str) -> int:
    """How many digits the currency has after the point."""
    return 0 if currency in _WHOLE else 3 if currency in _THOUSANDTHS else 2


@total_ordering
class Money:
    """An amount of one currency; amounts of two currencies are never added or compared."""

    __slots__ = ("amount", "currency")

    def __init__(self, text: str) -> None:
        """Read ``text``; ``ValueError`` with a remedy where it is no money."""
        match = _MONEY.match(text) if len(text) < 40 else None
        if match is None:
            raise ValueError(f"{text[:40]!r} is no amount of money; {HELP}")
        self.currency: str = match["currency"].upper()
        self.amount = Decimal(match["amount"].replace(",", "."))
        if -int(self.amount.as_tuple().exponent) > digits_of(self.currency):
            raise ValueError(f"{text!r} has more digits after the point than {self.currency} has; {HELP}")

    @classmethod
    def of(cls, amount: Decimal, currency: str) -> "Money":
        """``amount`` rounded half up to what can be paid in ``currency``."""
        step = Decimal(1).scaleb(-digits_of(currency))
        return cls(f"{amount.quantize(step, ROUND_HALF_UP):f} {currency}")

    def __str__(self) -> str:
        digits = 0 if self.amount == self.amount.to_integral_value() else digits_of(self.currency)
        return f"{self.amount:.{digits}f} {self.currency}"

    def __repr__(self) -> str:
        return f"Money({str(self)!r})"

    def __add__(self, other: "Money") -> "Money":
        return Money.of(self.amount + self._like(other).amount, self.currency)

    def __eq__(self, other: object) -> bool:
        return isinstance(other, Money) and (self.amount, self.currency) == (other.amount, other.currency)

    def __lt__(self, other: "Money") -> bool:
        return self.amount < self._like(other).amount

    def __hash__(self) -> int:
        return hash((self.amount, self.currency))

    def _like(self, other: "Money") -> "Money":
        if other.currency != self.currency:
            raise ValueError(f"{self} and {other} are of two currencies; give both in one")
        return other

    @classmethod
    def __get_pydantic_core_schema__(cls, _source: Any, _handler: GetCoreSchemaHandler) -> CoreSchema:
        """Text in JSON, ``Money`` in memory."""
        from_text = core_schema.no_info_after_validator_function(cls, core_schema.str_schema())
        return core_schema.json_or_python_schema(
            json_schema=from_text,
            python_schema=core_schema.union_schema([core_schema.is_instance_schema(cls), from_text]),
            serialization=core_schema.plain_serializer_function_ser_schema(str),
        )

    @classmethod
    def __get_pydantic_json_schema__(cls, _schema: CoreSchema, _handler: GetJsonSchemaHandler) -> dict[str, Any]:
        """Published schema: a string with a pattern and examples."""
        return {
            "type": "string",
            "pattern": _MONEY.pattern.replace("?P<amount>", "?:").replace("?P<currency>", "?:"),
            "examples": ["240 EUR", "12.50 GBP", "18000 JPY"],
        }
