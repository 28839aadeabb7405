"""Thread lists as CSV: written for any spreadsheet, and read in whatever habit one was saved.

In: threads, or bytes.  Out: bytes, or what each line says and what is wrong where.
Decimal points and commas; columns in any order under common English words; empty cells.
"""

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Any

from pydantic import ValidationError

from polestitch.document.tabletext import Cells, Fault, gathered, table, table_text, unguarded
from polestitch.errors import DesignError
from polestitch.store.drawer import COLUMNS, Thread
from polestitch.studio.messages_chair import NewThread

HEADER = ("name", "fibre", "size", "colour", "rows_per_cm", "skein_mm", "left_mm", "price", "currency", "shelf", "lot")
HEADERS = (*HEADER, "note")
NUMBERS = ("rows_per_cm", "skein_mm", "left_mm", "price")
LENGTHS = ("skein_mm", "left_mm")
UNITS = {"mm": 1.0, "cm": 10.0, "m": 1000.0, "metres": 1000.0, "meters": 1000.0, "yd": 914.4, "yards": 914.4}
WORDS = {
    "name": ("name", "thread", "colour name", "color name", "title"),
    "fibre": ("fibre", "fiber", "material"),
    "size": ("size", "weight", "thickness"),
    "colour": ("colour", "color", "hex", "rgb", "colour code", "color code"),
    "rows_per_cm": ("rows per cm", "rows/cm", "threads per cm", "wraps per cm"),
    "skein_mm": ("skein", "skein length", "length", "put-up"),
    "left_mm": ("left", "amount", "amount left", "have", "remaining", "stock", "in stock"),
    "price": ("price", "cost"),
    "currency": ("currency",),
    "shelf": ("shelf", "place", "shelf place", "box", "location"),
    "lot": ("lot", "dye lot", "batch"),
    "note": ("note", "notes", "comment", "comments", "remarks"),
}
MOST_LINES = 20_000
MOST_BYTES = 5_000_000


@dataclass(frozen=True)
class Line:
    """One line that was read: its number in the file and what it says."""

    number: int
    said: dict[str, Any]


def thread_list(threads: Iterable[Thread]) -> bytes:
    """All threads, one a line."""
    said = (
        {**{name: getattr(thread.words, name) for name in COLUMNS}, "left_mm": round(thread.left_mm, 1)}
        for thread in threads
    )
    return table_text(HEADERS, ([each[name] for name in HEADERS] for each in said))


def read_list(data: bytes) -> tuple[list[Line], list[Fault]]:
    """What the file says; ``DesignError`` where it is no list of threads at all."""
    read = table(data, "file", MOST_BYTES)
    if len(read.lines) > MOST_LINES:
        raise DesignError("file", f"has more than {MOST_LINES} lines; save it in parts")
    columns = _columns(read.lines[0][1]) if read.lines else []
    if not any(name == "name" for name, _ in filter(None, columns)):
        raise DesignError("file", 'has no column called "name"; put the names of the columns into its first line')

    def line(number: int, cells: Cells) -> Line:
        return _line(number, cells if read.separator != "," else _without_groups(cells, columns), columns)

    return gathered(read.lines[1:], line)


def _without_groups(row: Sequence[str], columns: Sequence[tuple[str, float] | None]) -> list[str]:
    """Where commas part the cells, a comma within a number groups thousands: "1,250 cm"."""
    counted = [column is not None and column[0] in NUMBERS for column in columns]
    return [re.sub(r"(?<=\d),(?=\d{3}\b)", "", cell) if plain else cell for cell, plain in zip(row, counted)]


def _columns(header: Sequence[str]) -> list[tuple[str, float] | None]:
    """Which column each is, and how many mm (or simply 1) its numbers count."""
    known = {word: name for name, words in WORDS.items() for word in (*words, name.replace("_", " "))}
    found: list[tuple[str, float] | None] = []
    for cell in header:
        word = " ".join(cell.replace("_", " ").replace("(", " ").replace(")", " ").lower().split())
        bare, _, unit = word.rpartition(" ")
        if word in known:
            found.append((known[word], 1.0))
        elif bare in known and known[bare] in LENGTHS and unit in UNITS:
            found.append((known[bare], UNITS[unit]))
        else:
            found.append(None)
    return found


def _line(number: int, cells: Sequence[str], columns: Sequence[tuple[str, float] | None]) -> Line:
    said: dict[str, Any] = {}
    for column, cell in zip(columns, cells):
        text = unguarded(cell)
        if column is None or not text:
            continue
        name, unit = column
        said[name] = _value(name, text, unit)
        if said[name] is None:
            raise DesignError(name, f'"{text[:40]}" is no {_what(name)}')
    try:
        return Line(number, NewThread.model_validate(said).model_dump(exclude_none=True))
    except ValidationError as error:
        first = error.errors()[0]
        what = "has no name" if "name" not in said else f"cannot be kept: {first['msg'].removeprefix('Value error, ')}"
        raise DesignError(str(first["loc"][0]) if first["loc"] else "", what) from None


def _what(name: str) -> str:
    return 'length; write it like "25 m"' if name in LENGTHS else "number"


def _value(name: str, text: str, unit: float) -> Any:
    if name == "colour":
        return _colour(text)
    if name not in NUMBERS:
        return text
    found = re.fullmatch(r"([^A-Za-z]*?)\s*([A-Za-z]+)?", text)
    if found is None or (found[2] and (name not in LENGTHS or found[2].lower() not in UNITS)):
        return None
    number = _number(found[1])
    return None if number is None else number * (UNITS[found[2].lower()] if found[2] else unit)


def _colour(text: str) -> str:
    return text if text.startswith("#") or not re.fullmatch(r"[0-9a-fA-F]{6}", text) else f"#{text}"


def _number(text: str) -> float | None:
    """A number with a decimal point or comma; whichever stands last is the decimal one, the other groups."""
    plain = text.replace("\u00a0", "").replace("\u202f", "").replace(" ", "").replace("'", "")
    if plain.count(",") and plain.count("."):
        plain = plain.replace(",", "") if plain.rfind(".") > plain.rfind(",") else plain.replace(".", "")
    plain = plain.replace(",", ".") if plain.count(",") == 1 else plain
    return float(plain) if re.fullmatch(r"\d{1,12}(\.\d{0,12})?", plain) else None
