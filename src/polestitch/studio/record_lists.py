"""Records of pieces as a list for a spreadsheet, and back, in whatever habit one was saved.

In: records, or bytes of a CSV file.  Out: bytes, or what each line says and what is wrong where.  An empty cell says
nothing: it takes nothing away from a record.
"""

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from polestitch.document.jsontext import json_object
from polestitch.document.tabletext import Cells, Fault, gathered, table_lines, table_text, unguarded
from polestitch.errors import DesignError
from polestitch.showing.codec import read_record, written_record
from polestitch.store.designs import document_text

Raw = dict[str, Any]
PLACE = ("where", "with_whom", "since", "until")
NUMBERS = ("weight_g", "hours")
HEADERS = (
    *("number", "title", "pattern", "maker", "division", "around", "weight_g", "core", "small_parts"),
    *("hours", "begun", "finished", "price", "insured", *PLACE, "text", "plain", "care", "notes"),
)
WORDS = {
    "inventory number": "number",
    "no": "number",
    "name": "title",
    "circumference": "around",
    "weight": "weight_g",
    "insurance": "insured",
    "insurance value": "insured",
    "plain language": "plain",
    "with": "with_whom",
    "place": "where",
    "inside": "core",
}


@dataclass(frozen=True)
class Line:
    """One line: its number in the file, and the whole record as it would be."""

    number: int
    record: Raw
    is_new: bool


def record_list(records: Iterable[Raw]) -> bytes:
    """One record a line."""
    said = ({**record, **record.get("place", {})} for record in records)
    return table_text(HEADERS, ([each.get(name) for name in HEADERS] for each in said))


def read_list(content: bytes, known: Mapping[str, Raw]) -> tuple[list[Line], list[Fault]]:
    """What the file says beside what is ``known`` by number; ``DesignError`` where it is no list of pieces at all."""
    lines = table_lines(content, "file")
    columns = [_column(cell) for cell in lines[0][1]] if lines else []
    if "number" not in columns:
        raise DesignError("file", 'has no column called "number"; put the names of the columns into its first line')
    unknown = [
        Fault(lines[0][0], cell, f"is no column of a piece; there are {', '.join(HEADERS)}")
        for cell, column in zip(lines[0][1], columns)
        if column is None and cell
    ]
    seen: set[str] = set()

    def line(number: int, cells: Cells) -> Line:
        return _line(number, dict(zip(columns, cells)), (known, seen))

    return gathered(lines[1:], line, unknown)


def _column(cell: str) -> str | None:
    words = re.sub(r"[\s_]+", " ", cell).strip().casefold()
    name = WORDS.get(words, words.replace(" ", "_"))
    return name if name in HEADERS else None


def _line(number: int, cells: Mapping[str | None, str], others: tuple[Mapping[str, Raw], set[str]]) -> Line:
    known, seen = others
    said = {name: _said(name, cell) for name, cell in cells.items() if name is not None and cell}
    mine = str(said.get("number", ""))
    if mine in seen:
        raise DesignError("number", f"{mine} stands in this list twice; leave one of them out")
    seen.add(mine)
    old = known.get(mine, {})
    place = {**old.get("place", {}), **{name: said.pop(name) for name in PLACE if name in said}}
    record = read_record(document_text({**old, **said, **({"place": place} if place else {})}))
    return Line(number, json_object(written_record(record), "record"), mine not in known)


def _said(name: str, cell: str) -> str | float:
    """A cell as a record wants it: points in numbers, no apostrophe before what looks like a formula."""
    text = unguarded(cell)
    if name == "around":
        return re.sub(r"(?<=\d),(?=\d)", ".", text)
    if name not in NUMBERS:
        return text
    try:
        return float(text.replace(",", "."))
    except ValueError:
        raise DesignError(name, f'"{text[:40]}" is no number; write it like 12.5') from None
