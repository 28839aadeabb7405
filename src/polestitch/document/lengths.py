"""Lengths as a maker writes them: ``"12 mm"``, ``"1/2 in"``, ``"1/3 from obi"``, ``"5 mm from edge"``.

In: text.  Out: a frozen ``Length`` that still knows its words, so writing gives the same text back.
A fraction is of a guideline's arc and must name its origin (craft: the commonest misreading of a
pattern is a fraction taken from the wrong end).
"""

import re
from fractions import Fraction
from typing import Any

from pydantic import GetCoreSchemaHandler, GetJsonSchemaHandler
from pydantic_core import CoreSchema, core_schema

MM = {"mm": 1.0, "cm": 10.0, "m": 1000.0, "in": 25.4, "yd": 914.4}  # exact by definition (inch 1959)
ORIGINS = ("centre", "edge", "obi", "line")
_NUMBER = r"(?:\d+\s+\d+/\d+|\d+/\d+|\d*\.?\d+)"
_LENGTH = re.compile(
    rf"^\s*(?P<number>{_NUMBER})\s*(?P<unit>mm|cm|m|in|yd)?\s*(?:from\s+(?:the\s+)?(?P<origin>[a-z]+))?\s*$"
)
# A technique marks what belongs to the hand or thread, or counts rows; a length without a mark belongs to the picture.
BY_HAND = {"belongs_to": "the hand"}
BY_ROWS = {"belongs_to": "the rows"}
HELP = 'write it like "12 mm", "1.2 cm", "1/2 in" or "1/3 from obi"'


def _value(number: str) -> float:
    try:
        return float(sum(Fraction(part) for part in number.split()))
    except ZeroDivisionError:
        raise ValueError(f"{number!r} divides by zero; {HELP}") from None


class Length:
    """One length: ``value`` in ``unit`` (``None``: a fraction), from ``origin`` (``None``: not said)."""

    __slots__ = ("origin", "text", "unit", "value")

    def __init__(self, text: str) -> None:
        """Read ``text``; ``ValueError`` with a remedy where it is not a length."""
        match = _LENGTH.match(text) if len(text) < 80 else None
        if match is None:
            raise ValueError(f"{text[:40]!r} is not a length; {HELP}")
        self.text, self.unit, self.origin = text, match["unit"], match["origin"]
        self.value = _value(match["number"])
        if self.origin is not None and self.origin not in ORIGINS:
            raise ValueError(f"{self.origin!r} is no origin; a length starts from one of {', '.join(ORIGINS)}")
        if self.unit is None and self.origin is None:
            raise ValueError(f"{text!r} needs a unit, or for a fraction the end it starts from; {HELP}")

    @property
    def mm(self) -> float | None:
        """Millimetres, or ``None`` for a fraction, which only a guideline can turn into millimetres."""
        return None if self.unit is None else self.value * MM[self.unit]

    def __str__(self) -> str:
        return self.text

    def __repr__(self) -> str:
        return f"Length({self.text!r})"

    def __eq__(self, other: object) -> bool:
        return isinstance(other, Length) and self.text == other.text

    def __hash__(self) -> int:
        return hash(self.text)

    @classmethod
    def __get_pydantic_core_schema__(cls, _source: Any, _handler: GetCoreSchemaHandler) -> CoreSchema:
        """Text in JSON, ``Length`` in memory."""
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
            "pattern": r"^\s*(?:\d+\s+\d+/\d+|\d+/\d+|\d*\.?\d+)\s*(?:mm|cm|m|in|yd)?"
            r"\s*(?:from\s+(?:the\s+)?(?:centre|edge|obi|line))?\s*$",
            "examples": ["12 mm", "1.2 cm", "1/2 in", "1/3 from obi", "5 mm from edge"],
        }
