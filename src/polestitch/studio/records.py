"""What is known of a piece before she writes a word: from its design, from how it was stitched, from her numbers.

In: a design document, a piece of the Chair, numbers in use.  Out: the body of a record.  Only what is known is in it.
"""

import re
from collections.abc import Iterable, Sequence
from typing import Any

from pydantic import ValidationError

from polestitch.ball.measured import roundness
from polestitch.document.design import BallSpec
from polestitch.errors import DesignError
from polestitch.store.pieces import Piece
from polestitch.studio.planning import logged_hours

Raw = dict[str, Any]
FIRST_NUMBER = "01"
MOST_TECHNIQUES = 3
_TRAILING = re.compile(r"(\d{1,9})(\D*)$")
Known = dict[str, Any]


def next_number(numbers: Sequence[str]) -> str:
    """The number after her last one, in the way she writes them: HL-09, then HL-10.

    ``numbers`` stand in the order in which they were given.
    """
    for last in reversed(numbers):
        found = _TRAILING.search(last)
        if found is not None:
            return _free(last[: found.start()], found, set(numbers))
    return FIRST_NUMBER if FIRST_NUMBER not in numbers else f"{len(numbers) + 1:02d}"


def _free(before: str, found: "re.Match[str]", taken: set[str]) -> str:
    digits, after = found.groups()
    count = int(digits) + 1
    while (number := f"{before}{count:0{len(digits)}d}{after}") in taken:
        count += 1
    return number[:40]


def from_design(raw: Raw) -> Known:
    """Title, techniques, division and threads of a design document, as far as it says."""
    marking = raw.get("marking")
    division = marking.get("division") if isinstance(marking, dict) else ""
    known = {
        "title": _text(raw.get("name"), 80) or "Untitled",
        "pattern": _techniques(_list(raw.get("layers"))),
        "division": _text(division, 200),
        "threads": [_thread(thread) for thread in _list(raw.get("threads")) if _text(thread.get("name"), 60)],
    }
    return {name: value for name, value in known.items() if value}


def from_piece(piece: Piece, raw: Raw, state: Raw) -> Known:
    """What its design says, and what was measured, logged and written down while it was stitched."""
    done = sum(min(end, piece.told["steps"]) - start for start, end in state["done"] if start < piece.told["steps"])
    whole = done >= piece.told["steps"] > 0
    hours = round(logged_hours(state) * 4) / 4
    known = {
        "title": piece.name or None,
        "piece": piece.id,
        "around": _measured(raw),
        "hours": hours or None,
        "begun": piece.begun[:10],
        "finished": _last_day(state) if whole else None,
    }
    return {**from_design(raw), **{name: value for name, value in known.items() if value is not None}}


def _measured(raw: Raw) -> str | None:
    """Mean of what she measured; nothing where she measured nothing, since a plan is no measurement."""
    ball = raw.get("ball")
    if not isinstance(ball, dict) or not any(_values(ball.get("measured"))):
        return None
    try:
        mean = roundness(BallSpec.model_validate(ball)).around_mm
    except (ValidationError, DesignError):
        return None
    return f"{mean / 10:.1f} cm"


def _last_day(state: Raw) -> str | None:
    days = [str(sitting["last"])[:10] for sitting in state["sittings"]]
    return max(days, default=None)


def _thread(thread: Raw) -> Known:
    size, name = _text(thread.get("size"), 60), _text(thread.get("name"), 60)
    told = {"name": size or name, "fibre": _text(thread.get("fibre"), 60), "colour": name if size else ""}
    return {key: value for key, value in told.items() if value}


def _techniques(layers: Iterable[Raw]) -> str:
    names = dict.fromkeys(_text(layer.get("technique"), 60).replace("_", " ") for layer in layers)
    names.pop("", None)
    return ", ".join(list(names)[:MOST_TECHNIQUES]).capitalize()


def _text(value: Any, most: int) -> str:
    return " ".join(value.split())[:most] if isinstance(value, str) else ""


def _list(value: Any) -> list[Raw]:
    return [each for each in value if isinstance(each, dict)] if isinstance(value, list) else []


def _values(value: Any) -> list[Any]:
    return list(value.values()) if isinstance(value, dict) else []
