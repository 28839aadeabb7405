"""Readings as she wrote them down: a table of pin, pin and distance.

In: the bytes of a CSV file.  Out: ``Reading`` records; a ``DesignError`` names the line and what would be right.

Any order of columns under the heads ``from``, ``to`` and ``mm`` (or ``distance``), with ``via`` where the strip ran
over a third pin and ``off by`` where one reading is more or less sure than the rest.  Commas, semicolons or tabs
between, decimal points or commas, a byte order mark or none; distances in mm, in the unit that stands beside them, or
in the unit the head names.  Lines of a form that have no distance yet are not measured yet, and are left out.
"""

import math
from dataclasses import dataclass

from polestitch.document.lengths import Length
from polestitch.document.tabletext import table_lines
from polestitch.errors import DesignError

MOST_READINGS = 5_000
SHORTEST_MM, LONGEST_MM = 1.0, 2_000.0
HEADS = {
    "first": ("from", "pin", "from pin", "first", "first pin", "a"),
    "second": ("to", "to pin", "second", "second pin", "b"),
    "mm": ("mm", "distance", "distance mm", "length", "measured", "reading", "cm", "distance cm", "in", "inches"),
    "via": ("via", "over", "through"),
    "sigma": ("off by", "sigma", "plus or minus", "doubt"),
}
UNITS = {"cm": "cm", "distance cm": "cm", "in": "in", "inches": "in"}
NEEDED = "the first line names the columns: from, to, mm"


@dataclass(frozen=True)
class Reading:
    """One distance along the strip; ``line`` counts from 1 in what she gave."""

    first: str
    second: str
    mm: float
    via: str = ""
    sigma_mm: float | None = None
    line: int = 0


def readings_of(content: bytes, name: str) -> tuple[Reading, ...]:
    """Every reading in a CSV file called ``name``."""
    lines = table_lines(content, name)
    if not lines:
        raise DesignError(name, f"is empty; {NEEDED}")
    columns = _columns(lines[0][1], name)
    for line, cells in lines[1:]:
        _refuse_more(cells, len(lines[0][1]), f"{name}, line {line}")
    if not lines[1:]:
        raise DesignError(name, "has a head but no readings under it; write one pin distance a line")
    unit = _unit(lines[0][1], columns)
    found = tuple(
        _reading(cells, columns, line, name, unit) for line, cells in lines[1:] if not _unmeasured(cells, columns)
    )
    if not found:
        raise DesignError(name, 'has no distance filled in yet; write what you measured under "mm"')
    if len(found) > MOST_READINGS:
        raise DesignError(name, f"has {len(found)} readings; {MOST_READINGS} are more than any ball has")
    return found


def _unmeasured(cells: list[str], columns: dict[str, int]) -> bool:
    """Whether a line names two pins and no distance yet."""
    ends = [cells[columns[kind]] if columns[kind] < len(cells) else "" for kind in ("first", "second", "mm")]
    return bool(ends[0] and ends[1]) and not ends[2]


def _unit(head: list[str], columns: dict[str, int]) -> str:
    """The unit that the head of the distances names, if it is not mm."""
    return UNITS.get(_plain(head[columns["mm"]]), "")


def _plain(cell: str) -> str:
    return " ".join(cell.lower().replace("(", " ").replace(")", " ").split())


def _columns(head: list[str], name: str) -> dict[str, int]:
    plain = [_plain(cell) for cell in head]
    columns = {kind: plain.index(word) for kind, words in HEADS.items() for word in words[::-1] if word in plain}
    lacking = [HEADS[kind][0] for kind in ("first", "second", "mm") if kind not in columns]
    if lacking:
        raise DesignError(f"{name}, line 1", f'has no column called "{lacking[0]}"; {NEEDED}')
    return columns


def _refuse_more(cells: list[str], columns: int, where: str) -> None:
    if any(cells[columns:]):
        raise DesignError(where, "has more cells than the first line; with decimal commas, put semicolons between")


def _reading(cells: list[str], columns: dict[str, int], line: int, name: str, unit: str) -> Reading:
    where = f"{name}, line {line}"
    told = {kind: cells[at] if at < len(cells) else "" for kind, at in columns.items()}
    for kind in ("first", "second", "mm"):
        if not told[kind]:
            raise DesignError(where, f'has nothing under "{HEADS[kind][0]}"; fill it in or take the line out')
    sigma = told.get("sigma", "")
    return Reading(
        told["first"],
        told["second"],
        millimetres(with_unit(told["mm"], unit), where),
        told.get("via", ""),
        millimetres(sigma, where, least=0.01) if sigma else None,
        line,
    )


def with_unit(text: str, unit: str) -> str:
    """``text`` with ``unit`` behind it where it has none of its own."""
    return f"{text} {unit}" if unit and not any(letter.isalpha() for letter in text) else text


def millimetres(text: str, where: str, least: float = SHORTEST_MM) -> float:
    """A length in mm, with or without its unit, with decimal point or comma."""
    plain = text.replace(",", ".").strip()
    try:
        mm = float(plain) if plain.replace(".", "", 1).isdecimal() else Length(plain).mm
    except ValueError:
        mm = None
    if mm is None or not math.isfinite(mm) or not least <= mm <= LONGEST_MM:
        shown = text[:40]
        raise DesignError(where, f'"{shown}" is no distance between pins; write millimetres such as 62.5')
    return mm
