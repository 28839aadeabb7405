"""pydantic's findings said as one sentence to a maker.

In: a ``ValidationError`` and the record it belongs to.  Out: a ``DesignError`` with a path such as ``layers[2].rows``.
"""

import difflib
import types
import typing
from collections.abc import Iterator, Sequence
from typing import Any

from pydantic import BaseModel, ValidationError
from pydantic.fields import FieldInfo
from pydantic_core import ErrorDetails

from polestitch.document.colours import Colour
from polestitch.document.lengths import HELP, Length
from polestitch.errors import DesignError

Part = int | str
UNION_TAGS = ("str", "tuple[str, ...]")  # pydantic adds the branch it tried to the place of the error
EMPTY = '""'  # how a key without a single letter is shown
_TEXT = 'must be text in "double quotes"'
_LIST = "must be a list in square brackets [ ]"
_GROUP = "must be a group in curly brackets {{ }}"
_WHOLE = "must be a whole number without quotes"
_DATE = 'must be a date; write it like "2026-12-05"'
_SENTENCES = {
    "string_type": _TEXT,
    "string_too_short": "must not be empty",
    "string_too_long": "must be at most {max_length} characters long",
    "literal_error": "must be one of {expected}",
    "bool_type": "must be true or false, without quotes",
    "int_type": _WHOLE,
    "int_from_float": _WHOLE,
    "float_type": "must be a number without quotes",
    "greater_than": "must be more than {gt:g}",
    "greater_than_equal": "must be at least {ge:g}",
    "less_than": "must be less than {lt:g}",
    "less_than_equal": "must be at most {le:g}",
    "too_short": "must have at least {min_length} in its list",
    "too_long": "must have at most {max_length} in its list",
    "tuple_type": _LIST,
    "list_type": _LIST,
    "model_type": _GROUP,
    "model_attributes_type": _GROUP,
    "dict_type": _GROUP,
    "date_type": _DATE,
    "date_parsing": _DATE,
    "date_from_datetime_parsing": _DATE,
    "date_from_datetime_inexact": _DATE,
    "string_pattern_mismatch": "must be written as said here",
}


def path(parts: Sequence[Part]) -> str:
    """``("layers", 2, "rows")`` as ``layers[2].rows``; a part that is very long is cut."""
    text = "".join(f"[{part}]" if isinstance(part, int) else f".{part[:40] or EMPTY}" for part in parts)
    return text.removeprefix(".")


def design_error(error: ValidationError, model: type[BaseModel], where: str = "") -> DesignError:
    """The first finding as a sentence; ``where`` is the place of ``model`` itself in the document.

    A misspelt key comes before everything else: it is often why another one is missing.
    """
    found = error.errors(include_url=False)
    first = min(found, key=lambda details: details["type"] != "extra_forbidden")
    known = first["type"] == "extra_forbidden"
    parts = tuple(part for k, part in enumerate(first["loc"]) if k == 0 or known or str(part) not in UNION_TAGS)
    below = path(parts)
    joint = "." if where and below and not below.startswith("[") else ""
    return DesignError(f"{where}{joint}{below}", _sentence(first, parts, model))


def _sentence(details: ErrorDetails, parts: Sequence[Part], model: type[BaseModel]) -> str:
    kind, context = details["type"], details.get("ctx", {})
    names = [part for part in parts if isinstance(part, str)]
    record, key = _record_at(model, names[:-1]), "".join(names[-1:])
    field = record.model_fields.get(key)
    if kind == "extra_forbidden":
        return _unknown_key(key, record)
    if kind == "missing":
        return f"is missing; add it{_about(field)}"
    if kind == "value_error":
        return str(context["error"]) + _about(field)
    if kind == "string_type" and field is not None and Length in _leaves(field.annotation):
        return f"must be a length; {HELP}"
    if kind == "string_type" and field is not None and Colour in _leaves(field.annotation):
        return 'must be a colour; write it like "#1d2b45"'
    plain = _SENTENCES[kind].format(**context) if kind in _SENTENCES else _lower(details["msg"])
    return plain + _about(field)


def _unknown_key(key: str, record: type[BaseModel]) -> str:
    known = list(record.model_fields)
    near = difflib.get_close_matches(key[:60].lower(), known, n=1, cutoff=0.6)
    hint = f'did you mean "{near[0]}"? ' if near else ""
    return f"is no word of this group; {hint}it has {', '.join(known) or 'none'}"


def _about(field: FieldInfo | None) -> str:
    """The field's own description, in brackets."""
    return f" ({_lower(field.description)})" if field and field.description else ""


def _lower(sentence: str) -> str:
    return sentence[:1].lower() + sentence[1:]


def _record_at(model: type[BaseModel], names: Sequence[str]) -> type[BaseModel]:
    """The record that the fields ``names``, one inside the other, lead to."""
    for name in names:
        field = model.model_fields.get(name)
        records = (leaf for leaf in _leaves(field.annotation if field else None) if issubclass(leaf, BaseModel))
        model = next(records, model)
    return model


def _leaves(annotation: Any) -> Iterator[type]:
    """The plain types inside ``tuple[Layer, ...]``, ``Length | None`` and the like."""
    if isinstance(annotation, type) and not isinstance(annotation, types.GenericAlias):
        yield annotation
    for inner in typing.get_args(annotation):
        yield from _leaves(inner)
