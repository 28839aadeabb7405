"""The show as plain text: for a screen reader, and ready to be turned into uncontracted braille.

In: an ``Exhibition``.  Out: UTF-8 text.  Lines hold at most 40 signs, as many as a common braille page has cells
(value from memory, no source); units are words; quotation marks, dashes and dots are the plain ones of a keyboard.
"""

import textwrap
from collections.abc import Iterator, Mapping

from polestitch.document.lengths import Length
from polestitch.sheets.show.dates import day, made_in
from polestitch.sheets.show.facts import across, hours, story, threads
from polestitch.showing.exhibition import Exhibition
from polestitch.showing.pieces import Piece, pieces
from polestitch.showing.record import PieceRecord

CELLS = 40
UNITS = {"mm": "millimetres", "cm": "centimetres", "m": "metres", "in": "inches", "yd": "yards"}
PLAIN = str.maketrans(
    {
        "“": '"', "”": '"', "„": '"', "«": '"', "»": '"', "‘": "'", "’": "'", "–": "-", "—": "-", "…": "...",
        "×": " by ", "·": ",", "•": "", "\u00a0": " ", "\u202f": " ", "°": " degrees",
    }
)  # fmt: skip


def made(exhibition: Exhibition, _pictures: Mapping[str, bytes], _size: str) -> bytes:
    """Title, venue, days, foreword, then piece by piece."""
    parts = [*_opening(exhibition), *(part for piece in pieces(exhibition) for part in _piece(exhibition, piece))]
    return ("\n\n".join(_wrapped(part) for part in parts) + "\n").encode()


def _opening(exhibition: Exhibition) -> Iterator[str]:
    yield "\n".join(part for part in (exhibition.title, exhibition.line) if part)
    yield "Plain text of the show, for a screen reader or for braille."
    if exhibition.venue:
        yield exhibition.venue
    days = [
        f"{word} {day(on)}."
        for word, on in (("Opens", exhibition.opens), ("Closes", exhibition.closes))
        if on is not None
    ]
    if days:
        yield "\n".join(days)
    if exhibition.foreword:
        yield exhibition.foreword


def _piece(exhibition: Exhibition, piece: Piece) -> Iterator[str]:
    record = piece.record
    yield f"Number {record.number}.\n{record.title}."
    told = "\n".join(_told(record))
    if told:
        yield told
    if words := story(record, exhibition.labels.words):
        yield words
    if pictured := [photo.words for photo in record.photos if photo.words]:
        yield f"What the picture shows: {pictured[0]}"
    if exhibition.labels.prices and record.price is not None:
        yield f"Price: {record.price}."


def _told(record: PieceRecord) -> Iterator[str]:
    made_when = made_in(record.begun, record.finished)
    for name, value in (("Pattern", record.pattern), ("Maker", record.maker), ("Made", made_when)):
        if value:
            yield f"{name}: {value}."
    if record.around is not None:
        yield f"Size: {_spelt(str(record.around))} around, {_spelt(across(record.around))} across."
    if record.weight_g is not None:
        yield f"Weight: {record.weight_g:g} gram{'' if record.weight_g == 1 else 's'}."
    for name, value in (("Division", record.division), ("Inside", record.core)):
        if value:
            yield f"{name}: {value}."
    if record.threads:
        yield f"Threads: {threads(record.threads)}."
    if record.hours is not None:
        yield f"Work: {hours(record)}."


def _spelt(length: str) -> str:
    """A length with its unit as a word."""
    read = Length(length)
    return f"{length.removesuffix(read.unit or '').strip()} {UNITS[read.unit or 'mm']}"


def _wrapped(part: str) -> str:
    lines = (" ".join(line.translate(PLAIN).split()) for line in part.splitlines())
    return "\n".join(textwrap.fill(line, CELLS, break_long_words=False, break_on_hyphens=False) for line in lines)
