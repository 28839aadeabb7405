"""JSON text read strictly: what the standard calls valid, said once, and not too much of it.

In: text or bytes.  Out: a JSON object as a ``dict``; anything else is a ``DesignError`` at its line and column.
"""

import json
import math
from typing import Any, NoReturn

from polestitch.errors import DesignError

MOST_BYTES = 5_000_000
DEEPEST = 50  # lists within lists; a design needs six
LONGEST_NUMBER = 400  # digits; Python refuses to read integers of a few thousand


def json_object(text: str | bytes, source: str, noun: str = "design") -> dict[str, Any]:
    """The object that ``text`` holds; every ``DesignError`` names ``source`` and calls the whole a ``noun``."""
    try:
        raw = json.loads(
            _decoded(text, source, noun),
            object_pairs_hook=_object,
            parse_constant=_no_constant,
            parse_float=_float,
            parse_int=_int,
        )
    except json.JSONDecodeError as error:
        raise DesignError(source, f"line {error.lineno}, column {error.colno}: {_reason(error, noun)}") from None
    except RecursionError:
        raise DesignError(source, _too_deep(noun)) from None
    except _NotJsonError as error:
        raise DesignError(source, str(error)) from None
    if not isinstance(raw, dict):
        raise DesignError(source, f"is no {noun}; a {noun} is one group in curly brackets: {{ … }}")
    _refuse_odd_values(raw, source, noun)
    return raw


def _too_deep(noun: str) -> str:
    return f"brackets lie more than {DEEPEST} deep; no {noun} needs that, so check that each one is closed"


class _NotJsonError(Exception):
    """Valid to Python's reader, but not to the JSON standard."""


def _decoded(text: str | bytes, source: str, noun: str) -> str:
    # Size first: nothing else is worth doing to a 50 MB file.
    if len(text) > MOST_BYTES:
        raise DesignError(source, f"is larger than {MOST_BYTES // 10**6} MB; a {noun} is far smaller, is it this file?")
    if isinstance(text, str):
        return text.removeprefix("\ufeff")
    try:
        return text.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        raise DesignError(
            source, f"is not text in UTF-8 (byte {error.start + 1}); save the {noun} as a UTF-8 text file"
        ) from None


def _object(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    made = dict(pairs)
    if len(made) < len(pairs):
        keys = [key for key, _ in pairs]
        twice = next(key for key in keys if keys.count(key) > 1)
        raise _NotJsonError(f'"{twice[:40]}" stands twice in the same group; keep one of the two')
    return made


def _no_constant(word: str) -> NoReturn:
    raise _NotJsonError(f"{word} is not a number; write the figure itself")


def _float(digits: str) -> float:
    number = float(digits) if len(digits) <= LONGEST_NUMBER else math.inf
    if not math.isfinite(number):
        raise _NotJsonError(f"the number {digits[:20]}… is too large; write a smaller one")
    return number


def _int(digits: str) -> int:
    if len(digits) > LONGEST_NUMBER:
        raise _NotJsonError(f"the number {digits[:20]}… is too large; write a smaller one")
    return int(digits)


def _refuse_odd_values(raw: dict[str, Any], source: str, noun: str) -> None:
    """Depth and broken characters, without recursion: the document may be anything."""
    todo: list[tuple[Any, int]] = [(raw, 1)]
    while todo:
        value, depth = todo.pop()
        if depth > DEEPEST:
            raise DesignError(source, _too_deep(noun))
        if isinstance(value, dict):
            todo += [(part, depth + 1) for pair in value.items() for part in pair]
        elif isinstance(value, list):
            todo += [(part, depth + 1) for part in value]
        elif isinstance(value, str) and _half_character(value):
            raise DesignError(source, f"{value[:20]!r} holds half a character; type the text again")


def _half_character(text: str) -> bool:
    """Whether ``text`` holds a lone surrogate, which JSON can spell but no file can keep."""
    return any("\ud800" <= letter <= "\udfff" for letter in text) if not text.isascii() else False


def _reason(error: json.JSONDecodeError, noun: str) -> str:
    """What Python's reader says, in words a maker can act on."""
    plain = {
        "Expecting property name enclosed in double quotes": 'a name in "double quotes" belongs here '
        "(is there a comma too many before it?)",
        "Expecting ',' delimiter": "a comma or a closing bracket is missing before this place",
        "Expecting ':' delimiter": "a colon is missing after the name",
        "Expecting value": "a value is missing here (is there a comma too many?)",
        "Unterminated string starting at": "this text has no closing quotation mark",
        "Extra data": f"the {noun} ends before this place; is there a closing bracket too many?",
        "Invalid control character at": "a line ends inside a text; close the quotation mark, or write \\n",
    }
    if not error.doc.strip():
        return f"the file is empty; a {noun} begins with {{"
    return plain.get(error.msg, f"this is not JSON ({error.msg}); correct it here")
