"""What a record says of its piece, as names and values; what is not entered is not there.

In: a ``PieceRecord``.  Out: ``Fact``s.
"""

from collections.abc import Iterator
from typing import Literal, NamedTuple

from polestitch.document.lengths import Length
from polestitch.document.said import near_length
from polestitch.sheets.show.dates import made_in
from polestitch.showing.caseplan import across_mm
from polestitch.showing.record import PieceRecord, ThreadUsed

Words = Literal["text", "plain"]


class Fact(NamedTuple):
    """One thing known of a piece."""

    name: str
    value: str


def facts(record: PieceRecord) -> tuple[Fact, ...]:
    """Everything printed beside title and text, in the order of a catalogue."""
    return tuple(_facts(record))


def _facts(record: PieceRecord) -> Iterator[Fact]:
    if record.maker:
        yield Fact("Maker", record.maker)
    if year := made_in(record.begun, record.finished):
        yield Fact("Made", year)
    if record.around is not None:
        yield Fact("Size", size(record.around))
    if record.weight_g is not None:
        yield Fact("Weight", f"{record.weight_g:g} g")
    if record.division:
        yield Fact("Division", record.division)
    if record.core:
        yield Fact("Inside", record.core)
    if record.threads:
        yield Fact("Threads", "; ".join(thread_words(thread) for thread in record.threads))
    if record.hours is not None:
        yield Fact("Work", hours(record))


def size(around: Length) -> str:
    """The circumference as she wrote it, and the diameter a round ball of it has."""
    return f"{around} round, {across(around)} across"


def across(around: Length) -> str:
    """The diameter in whole millimetres, or in inches where she measures in inches."""
    mm = across_mm(around)
    return near_length(mm, "in") if around.unit in ("in", "yd") else f"{mm:.0f} mm"


def hours(record: PieceRecord) -> str:
    """Hours of work; an estimate says that it is one."""
    if record.hours is None:
        return ""
    count = f"{record.hours:g} hour{'' if record.hours == 1 else 's'}"
    return f"about {count}, estimated" if record.hours_estimated else count


def thread_words(thread: ThreadUsed) -> str:
    """Name, colour and fibre, each once."""
    further = [part for part in (thread.colour, thread.fibre) if part and part not in thread.name]
    return ", ".join((thread.name, *further))


def story(record: PieceRecord, words: Words) -> str:
    """The text wanted, or the other where only that is written."""
    wanted, other = (record.plain, record.text) if words == "plain" else (record.text, record.plain)
    return wanted or other
