"""A show or a record as JSON text and back.

In: text or bytes.  Out: an ``Exhibition`` or a ``PieceRecord``, or a ``DesignError`` with the place and the remedy;
and text again.
"""

import json
from collections.abc import Mapping
from typing import Any, TypeVar

from pydantic import ValidationError

from polestitch.document.design import Record
from polestitch.document.jsontext import json_object
from polestitch.document.sentences import design_error
from polestitch.errors import DesignError
from polestitch.showing.checked import checked, checked_record
from polestitch.showing.exhibition import FORMAT, Exhibition
from polestitch.showing.record import PieceRecord

Kind = TypeVar("Kind", bound=Record)
_EMPTY: tuple[Any, ...] = (None, "", [], {})


def read_show(text: str | bytes, source: str = "show") -> Exhibition:
    """The show that ``text`` holds, its parts in agreement; ``source`` names it in messages about the file itself."""
    return checked(_parsed(Exhibition, json_object(text, source, "show")))


def read_record(text: str | bytes, source: str = "record") -> PieceRecord:
    """The record that ``text`` holds."""
    return checked_record(_parsed(PieceRecord, json_object(text, source, "record")), "")


def written_show(exhibition: Exhibition) -> str:
    """JSON text that reads back as the same show; what is empty is left out."""
    return _text({"format": FORMAT, **_filled(exhibition.model_dump(mode="json"))})


def written_record(record: PieceRecord) -> str:
    """JSON text that reads back as the same record; what is empty, or only taken for granted, is left out."""
    return _text(_filled(record.model_dump(mode="json", exclude_defaults=True)))


def _text(plain: Mapping[str, Any]) -> str:
    return json.dumps(plain, indent=2, ensure_ascii=False, allow_nan=False) + "\n"


def _filled(plain: Any) -> Any:
    """``plain`` without its empty fields."""
    if isinstance(plain, dict):
        parts = {name: _filled(part) for name, part in plain.items()}
        return {name: part for name, part in parts.items() if part not in _EMPTY}
    return [_filled(part) for part in plain] if isinstance(plain, list) else plain


def _parsed(model: type[Kind], raw: Mapping[str, Any]) -> Kind:
    _check_format(model, raw)
    try:
        # Through JSON once more: only there does pydantic take a list for a tuple and a date for its text.
        return model.model_validate_json(json.dumps(raw), strict=True)
    except ValidationError as error:
        raise design_error(error, model) from None


def _check_format(model: type[Record], raw: Mapping[str, Any]) -> None:
    written = raw.get("format", FORMAT)
    if model is Exhibition and isinstance(written, int) and written > FORMAT:
        raise DesignError("format", f"{written} is newer than this Polestitch reads; write {FORMAT}, or update it")
