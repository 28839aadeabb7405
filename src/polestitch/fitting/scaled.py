"""Lengths that belong to the picture, made larger or smaller with the ball.

In: a layer or support line as plain data.  Out: the same, scaled, and what changed in sentences.
A technique's params tell by their marks what belongs to the hand or the thread, and which counts fill the
ball and so follow its size (``BY_ROWS``), written out or not.
"""

import re
from collections.abc import Iterator
from fractions import Fraction
from math import floor
from typing import Any, NamedTuple, get_args

from pydantic.fields import FieldInfo

from polestitch.document.lengths import BY_HAND, BY_ROWS, MM, Length
from polestitch.stitching.technique import technique

_INCH_PARTS = 32  # the finest marks of a fine ruler, near enough to half a millimetre
_PLACED = re.compile(
    r"(?:\d+\s+\d+/\d+|\d+/\d+|\d*\.?\d+)\s*(?:mm|cm|m|in|yd)\b(?:\s+from\s+(?:the\s+)?(?:centre|edge|obi|line)\b)?"
)


class Change(NamedTuple):
    """One param's old and new value."""

    name: str
    old: str
    new: str


def scaled_length(text: str, scale: float) -> str:
    """A length in its own unit, to the nearest half millimetre (in inches 1/32) but never to nothing.

    Fractions stay, and so does what rounds to itself.
    """
    length = Length(text)
    if length.mm is None or length.unit is None or length.mm == 0:
        return text
    mm = length.mm * scale
    if abs(mm - length.mm) < 1e-9:
        return text
    origin = f" from {length.origin}" if length.origin else ""
    if length.unit in ("in", "yd"):
        return f"{_inches(mm)} in{origin}"
    half = max(1, floor(2 * mm + 0.5)) / 2
    return text if abs(half - length.mm) < 1e-9 else f"{round(half / MM[length.unit], 6):g} {length.unit}{origin}"


def _inches(mm: float) -> str:
    whole, part = divmod(max(1, round(mm / MM["in"] * _INCH_PARTS)), _INCH_PARTS)
    words = [str(whole)] if whole else []
    return " ".join(words + ([str(Fraction(part, _INCH_PARTS))] if part else []))


def scaled_address(text: str, scale: float) -> str:
    """An address whose lengths ("12 mm from edge") go with the ball."""
    return _PLACED.sub(lambda match: scaled_length(match[0], scale), text)


def picture_lengths(craft: str) -> Iterator[tuple[str, FieldInfo]]:
    """Params of a technique that are lengths of the picture, in the order their technique tells them."""
    for name, field in technique(craft).Params.model_fields.items():
        if _is(field, Length) and field.json_schema_extra != BY_HAND:
            yield name, field


def _is(field: FieldInfo, kind: type) -> bool:
    return field.annotation is kind or kind in get_args(field.annotation)


def scaled_params(craft: str, params: dict[str, Any], scale: float) -> tuple[dict[str, Any], list[Change]]:
    """A layer's params for a ball ``scale`` times as large; a default that must change is written out."""
    made, changes = dict(params), []
    for name, field in picture_lengths(craft):
        old = params.get(name, None if field.default is None else str(field.default))
        if isinstance(old, str) and (new := scaled_length(old, scale)) != old:
            made[name] = new
            changes.append(Change(name, old, new))
    for name, field in technique(craft).Params.model_fields.items():
        old = params.get(name, list(field.default) if isinstance(field.default, tuple) else field.default)
        if field.json_schema_extra == BY_ROWS and old is not None and (new := _scaled_rows(old, scale)) != old:
            made[name] = new
            changes.append(Change(name, _said(old), _said(new)))
    return made | _scaled_addresses(craft, made, scale), changes


def _scaled_addresses(craft: str, params: dict[str, Any], scale: float) -> dict[str, Any]:
    """Params that list addresses, as her own path does."""
    fields = technique(craft).Params.model_fields
    lists = {
        name: value
        for name, value in params.items()
        if name in fields and isinstance(value, list) and all(isinstance(one, str) for one in value)
    }
    return {name: [scaled_address(one, scale) for one in value] for name, value in lists.items()}


def _scaled_rows(rows: Any, scale: float) -> Any:
    if isinstance(rows, list):
        return [_scaled_rows(one, scale) for one in rows]
    return max(1, floor(rows * scale + 0.5))


def _said(rows: Any) -> str:
    return ", ".join(str(one) for one in rows) if isinstance(rows, list) else str(rows)
