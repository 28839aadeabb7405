"""Readings as tables for a spreadsheet, and back.

In: kept readings or the bytes of a file.  Out: CSV text; kept readings.
"""

import csv
import io
from collections.abc import Mapping, Sequence
from typing import Any

from polestitch.store.surveys import KeptReading, KeptSurvey
from polestitch.survey.readings import readings_of

HEAD = ("from", "to", "mm", "via", "should be")
_FORMULA = ("=", "+", "-", "@")


def readings_table(kept: KeptSurvey) -> str:
    """The readings that count, as ``readings_of`` reads them."""
    return _table([(one.first, one.second, one.length, one.via, "") for one in kept.readings if not one.aside])


def form_table(asked: Sequence[Mapping[str, Any]]) -> str:
    """Distances to measure, with what each should be."""
    return _table([(one["first"], one["second"], "", "", f"{one['mm']:.1f}") for one in asked])


def table_readings(content: bytes, name: str) -> tuple[KeptReading, ...]:
    """Readings of a table; ``DesignError`` names the line and what would be right."""
    found = readings_of(content, name)
    return tuple(
        KeptReading(first=one.first[:80], second=one.second[:80], length=f"{round(one.mm, 2):g}", via=one.via[:80])
        for one in found
    )


def _table(rows: Sequence[tuple[str, ...]]) -> str:
    text = io.StringIO(newline="")
    writer = csv.writer(text, lineterminator="\r\n")
    writer.writerow(HEAD)
    writer.writerows([[_guarded(cell) for cell in row] for row in rows])
    return text.getvalue()


def _guarded(cell: str) -> str:
    """A spreadsheet takes no cell for a formula."""
    return f"'{cell}" if cell.startswith(_FORMULA) else cell
