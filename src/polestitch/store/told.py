"""What the shelf shows of a document, whatever state it is in.

In: a document's text.  Out: ``Told``; what cannot be read is left empty and told in ``wrong``.
"""

from dataclasses import dataclass
from typing import Any

from polestitch.document.codec import read
from polestitch.document.jsontext import json_object
from polestitch.document.limits import around_mm
from polestitch.errors import DesignError

NAMELESS = "Without a name"
LONGEST_NAME = 60


@dataclass(frozen=True)
class Told:
    """Name, division and size as far as they can be read."""

    name: str
    division: str
    around_mm: float | None
    wrong: tuple[str, str] | None


def told(text: str) -> Told:
    """What ``text`` tells; it must hold a JSON object."""
    raw = json_object(text, "design")
    return Told(name_of(raw), _text(_part(raw, "marking", "division"), 20), _around(raw), _wrong(text))


def name_of(raw: dict[str, Any]) -> str:
    """The design's name, or words in its place."""
    return _text(raw.get("name"), LONGEST_NAME) or NAMELESS


def named(raw: dict[str, Any], name: str) -> dict[str, Any]:
    """``raw`` under another name, no longer than a name may be."""
    return {**raw, "name": name}


def with_suffix(name: str, suffix: str) -> str:
    """``name`` with `` (suffix)``, cut so that it stays a name."""
    tail = f" ({suffix})"
    return name[: LONGEST_NAME - len(tail)] + tail


def _part(raw: dict[str, Any], *keys: str) -> Any:
    value: Any = raw
    for key in keys:
        value = value.get(key) if isinstance(value, dict) else None
    return value


def _text(value: Any, most: int) -> str:
    return value[:most] if isinstance(value, str) else ""


def _around(raw: dict[str, Any]) -> float | None:
    try:
        return around_mm(_text(_part(raw, "ball", "around"), 80), "ball.around")
    except DesignError:
        return None


def _wrong(text: str) -> tuple[str, str] | None:
    try:
        read(text)
    except DesignError as error:
        return error.where, error.what
    return None
