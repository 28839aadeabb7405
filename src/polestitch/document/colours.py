"""Colours as a maker writes them: ``"#1d2b45"`` or ``"#fc3"``.

In: text.  Out: a frozen ``Colour`` with its three bytes.
"""

import re
from typing import Any

from pydantic import GetCoreSchemaHandler, GetJsonSchemaHandler
from pydantic_core import CoreSchema, core_schema

_HEX = re.compile(r"^#(?:[0-9a-fA-F]{3}|[0-9a-fA-F]{6})$")


class Colour(str):
    """An sRGB colour in hexadecimal; ``ValueError`` with a remedy where the text is none."""

    __slots__ = ()

    def __new__(cls, text: str) -> "Colour":
        """Check ``text`` and keep it as written."""
        if not _HEX.fullmatch(text):
            raise ValueError(f'{text[:20]!r} is not a colour; write it like "#1d2b45"')
        return super().__new__(cls, text)

    @property
    def rgb(self) -> tuple[int, int, int]:
        """Red, green and blue, 0 to 255."""
        digits = self[1:] if len(self) == 7 else "".join(2 * digit for digit in self[1:])
        return int(digits[0:2], 16), int(digits[2:4], 16), int(digits[4:6], 16)

    @classmethod
    def __get_pydantic_core_schema__(cls, _source: Any, _handler: GetCoreSchemaHandler) -> CoreSchema:
        """Text in JSON, ``Colour`` in memory."""
        return core_schema.no_info_after_validator_function(
            cls, core_schema.str_schema(), serialization=core_schema.plain_serializer_function_ser_schema(str)
        )

    @classmethod
    def __get_pydantic_json_schema__(cls, _schema: CoreSchema, _handler: GetJsonSchemaHandler) -> dict[str, Any]:
        """Published schema: a string in hexadecimal."""
        return {"type": "string", "format": "color", "pattern": _HEX.pattern, "examples": ["#1d2b45"]}
