"""Tables as spreadsheets save them, in whatever habit, and as any spreadsheet reads them.

In: the bytes of a CSV file, or cells.  Out: its lines as cells, what they say and what is wrong where, or bytes.
"""

import csv
import io
import re
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from typing import Any, TypeVar

from polestitch.errors import DesignError

MOST_BYTES = 1_000_000
SEPARATORS = ";\t,"
# A spreadsheet would run what begins so as a formula.
_FORMULA = ("=", "+", "-", "@", "\t", "\r")

Cells = list[str]
Numbered = tuple[int, Cells]
Said = TypeVar("Said")


@dataclass(frozen=True)
class Table:
    """Lines with something in them, counted from 1 as a spreadsheet counts them, and what parts their cells."""

    lines: list[Numbered]
    separator: str


@dataclass(frozen=True)
class Fault:
    """What cannot be read, where."""

    line: int
    column: str | None
    what: str


def table_lines(content: bytes, name: str) -> list[Numbered]:
    """The lines of ``table``."""
    return table(content, name).lines


def table(content: bytes, name: str, most_bytes: int = MOST_BYTES) -> Table:
    """A CSV file, cut at the separator that its first line has most of; ``DesignError`` names it where it is none.

    Commas, semicolons or tabs between, a first line ``sep=`` or none; UTF-8 or UTF-16, with a mark of byte order or
    without, or what older spreadsheets save.
    """
    if len(content) > most_bytes:
        raise DesignError(name, f"is larger than {most_bytes // 1_000_000} MB; give a smaller table")
    text = _text(content, name)
    head = next((line for line in text.splitlines() if line.strip()), "")
    told = re.fullmatch(f"sep=([{SEPARATORS}])", head, re.IGNORECASE)
    bare = re.sub(r'"[^"]*"', "", head)
    separator = told[1] if told else max(SEPARATORS, key=bare.count)
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=separator, skipinitialspace=True)
    try:
        lines = [(number, [cell.strip() for cell in cells]) for number, cells in enumerate(reader, 1)]
    except csv.Error:
        raise DesignError(name, "is no list that can be read; save it as CSV and choose that file") from None
    filled = [(number, cells) for number, cells in lines if any(cells)]
    return Table(filled[1:] if told else filled, separator)


def _text(content: bytes, name: str) -> str:
    if content.startswith((b"\xff\xfe", b"\xfe\xff")):
        coding = "utf-16"
    elif b"\0" in content[:200]:
        coding = "utf-16-le" if content[1:2] == b"\0" else "utf-16-be"
    else:
        coding = "utf-8-sig"
    try:
        return content.decode(coding)
    except UnicodeDecodeError:
        if b"\0" in content:
            raise DesignError(name, "is no text in UTF-8; save the table as CSV in UTF-8") from None
        return content.decode("cp1252", "replace")  # what older spreadsheets save


def gathered(
    lines: Iterable[Numbered], line_of: Callable[[int, Cells], Said], faults: Iterable[Fault] = ()
) -> tuple[list[Said], list[Fault]]:
    """What ``line_of`` reads from each line; a ``DesignError`` leaves its line out and stands after ``faults``."""
    found, wrong = [], list(faults)
    for number, cells in lines:
        try:
            found.append(line_of(number, cells))
        except DesignError as error:
            wrong.append(Fault(number, error.where or None, error.what))
    return found, wrong


def table_text(heads: Sequence[str], lines: Iterable[Sequence[Any]]) -> bytes:
    """A table for any spreadsheet; a cell that it would run as a formula begins with an apostrophe."""
    file = io.StringIO()
    rows = csv.writer(file)
    rows.writerow(heads)
    rows.writerows([_cell(value) for value in line] for line in lines)
    return b"\xef\xbb\xbf" + file.getvalue().encode()


def _cell(value: Any) -> str:
    if isinstance(value, float):
        return f"{value:.10g}"
    text = "" if value is None else str(value)
    return f"'{text}" if text.startswith(_FORMULA) else text


def unguarded(cell: str) -> str:
    """A cell without the apostrophe before what looks like a formula."""
    return cell[1:] if cell.startswith("'") and cell[1:].startswith(_FORMULA) else cell
