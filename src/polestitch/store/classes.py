"""Classes: as their teacher wrote them, even while a word in them is not right yet.

In: an open store and plain data.  Out: ``Class`` records.  Nothing is taken away but put away, and comes back.
"""

import json
from dataclasses import dataclass
from typing import Any
from uuid import uuid4

from sqlalchemy import select
from sqlalchemy.orm import Session

from polestitch.document.jsontext import json_object
from polestitch.errors import DesignError
from polestitch.store.designs import MissingError
from polestitch.store.entries import NewerError
from polestitch.store.store import Store
from polestitch.store.tables import ClassRow

Raw = dict[str, Any]
MOST_BYTES = 200_000
UNTITLED = "A class without a title"


@dataclass(frozen=True)
class Class:
    """One class; ``number`` counts the times it was written down."""

    id: str
    title: str
    design: str | None
    number: int
    changed: str
    away: bool
    raw: Raw


def classes(store: Store, away: bool = False) -> tuple[Class, ...]:
    """All of them, the last changed first: those at hand, or those put away."""
    with store.reading() as session:
        border = ClassRow.away_at.is_not(None) if away else ClassRow.away_at.is_(None)
        query = select(ClassRow).where(border).order_by(ClassRow.changed.desc(), ClassRow.id)
        return tuple(map(_class, session.scalars(query)))


def class_of(store: Store, id_: str) -> Class:
    """One of them."""
    with store.reading() as session:
        return _class(_row(session, id_))


def add_class(store: Store, raw: Raw) -> Class:
    """A new one."""
    text = _text(raw)
    with store.writing() as session:
        row = ClassRow(id=uuid4().hex, number=0)
        session.add(row)
        return _written(store, session, row, raw, text)


def save_class(store: Store, id_: str, raw: Raw, number: int) -> Class:
    """The same class in other words; ``NewerError`` where they build on other words than the last ones."""
    text = _text(raw)
    with store.writing() as session:
        row = _row(session, id_)
        if row.number != number:
            raise NewerError("class", "was changed in another window meanwhile; look at it again before you go on")
        return _written(store, session, row, raw, text)


def put_class_away(store: Store, id_: str, away: bool) -> Class:
    """Put away, or brought back."""
    with store.writing() as session:
        row = _row(session, id_)
        row.away_at = (row.away_at or store.stamp()) if away else None
        session.flush()
        return _class(row)


def _written(store: Store, session: Session, row: ClassRow, raw: Raw, text: str) -> Class:
    row.title = title_of(raw)
    row.sought, row.document, row.design = row.title.casefold(), text, design_of(raw)
    row.number, row.changed = row.number + 1, store.stamp()
    session.flush()
    return _class(row)


def _text(raw: Raw) -> str:
    """What is kept; ``DesignError`` for what no file can hold."""
    try:
        text = json.dumps(raw, ensure_ascii=False, allow_nan=False)
    except (ValueError, RecursionError):
        raise DesignError("class", "holds a number that is none, or brackets without end") from None
    if len(text) > MOST_BYTES:
        raise DesignError("class", f"is larger than {MOST_BYTES // 1000} kB; shorten its notes")
    json_object(text, "class")
    return text


def title_of(raw: Raw) -> str:
    """Its title, whatever else is wrong in it."""
    title = raw.get("title")
    return title.strip()[:80] or UNTITLED if isinstance(title, str) else UNTITLED


def design_of(raw: Raw) -> str | None:
    """The design it is about, if it says so."""
    design = raw.get("design")
    return design if isinstance(design, str) and len(design) <= 32 else None


def _row(session: Session, id_: str) -> ClassRow:
    row = session.get(ClassRow, id_)
    if row is None:
        raise MissingError("class", "there is no such class here; look for it among your classes")
    return row


def _class(row: ClassRow) -> Class:
    away = row.away_at is not None
    return Class(row.id, row.title, row.design, row.number, row.changed, away, json.loads(row.document))
