"""What a record says of its piece, as names and values; what is not entered is not there.

In: a ``PieceRecord``.  Out: ``Fact``s.
"""

from collections.abc import Iterable, Iterator
from typing import Literal, NamedTuple

from polestitch.document.lengths import Length
from polestitch.document.said import listed, near_length
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
        yield Fact("Threads", threads(record.threads))
    if record.hours is not None:
        yield Fact("Work", hours(record))


def size(around: Length) -> str:
    """The circumference as she wrote it, and the diameter a round ball of it has."""
    return f"{around} round, {across(around)} across"


def across(around: Length) -> str:
    """The diameter in whole millimetres, or in the unit she measures in."""
    mm = across_mm(around)
    if around.unit in ("in", "yd"):
        return near_length(mm, "in")
    return f"{mm:.0f} mm" if around.unit == "mm" else f"{mm / 10:.1f} cm"


def hours(record: PieceRecord) -> str:
    """Hours of work; an estimate says that it is one."""
    if record.hours is None:
        return ""
    count = f"{record.hours:g} hour{'' if record.hours == 1 else 's'}"
    return f"about {count}, estimated" if record.hours_estimated else count


def threads(used: Iterable[ThreadUsed]) -> str:
    """Each kind of thread once, with its fibre and its colours."""
    kinds: dict[tuple[str, str], list[str]] = {}
    for thread in used:
        colours = kinds.setdefault((thread.name, thread.fibre), [])
        if thread.colour and thread.colour not in (*colours, *thread.name.split()):
            colours.append(thread.colour)
    return "; ".join(_kind(name, fibre, colours) for (name, fibre), colours in kinds.items())


def _kind(name: str, fibre: str, colours: list[str]) -> str:
    spun = f"{name}, {fibre}" if fibre and fibre not in name else name
    return f"{spun}: {listed(colours)}" if colours else spun


def story(record: PieceRecord, words: Words) -> str:
    """The text wanted, or the other where only that is written."""
    wanted, other = (record.plain, record.text) if words == "plain" else (record.text, record.plain)
    return wanted or other
