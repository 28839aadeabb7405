"""The drawer: threads she owns or wants, and how much of each is left.

In: an open store.  Out: ``Thread`` records.  What is left is never stored: it is all that came and went by her word,
less what each piece has taken by now.
"""

from collections.abc import Mapping
from dataclasses import dataclass, fields
from typing import Any
from uuid import uuid4

from sqlalchemy import func, select
from sqlalchemy.orm import Session

from polestitch.store.designs import MissingError
from polestitch.store.store import Store
from polestitch.store.tables import MoveRow, ThreadRow, UseRow

BY_HER_WORD = "counted"


@dataclass(frozen=True)
class Words:
    """What she says of a thread; lengths in mm."""

    name: str
    fibre: str = "cotton"
    size: str = "pearl 5"
    colour: str = "#f3e6c8"
    rows_per_cm: float | None = None
    skein_mm: float | None = None
    price: float | None = None
    currency: str | None = None
    shelf: str | None = None
    lot: str | None = None
    note: str | None = None


COLUMNS = tuple(field.name for field in fields(Words))


@dataclass(frozen=True)
class Thread:
    """A thread of the drawer, as it is now."""

    id: str
    words: Words
    left_mm: float
    away: bool
    changed: str


def threads(store: Store, away: bool = False) -> tuple[Thread, ...]:
    """All of them by name: those in the drawer, or those put away."""
    with store.reading() as session:
        border = ThreadRow.away_at.is_not(None) if away else ThreadRow.away_at.is_(None)
        rows = session.scalars(select(ThreadRow).where(border).order_by(ThreadRow.sought, ThreadRow.id)).all()
        left = _left(session)
        return tuple(_thread(row, left) for row in rows)


def add_thread(store: Store, said: Mapping[str, Any]) -> Thread:
    """A new thread; ``said`` holds its words and perhaps ``left_mm``."""
    with store.writing() as session:
        row = ThreadRow(id=uuid4().hex)
        session.add(row)
        return _written(session, store, row, {**_plain(), **said})


def change_thread(store: Store, thread: str, said: Mapping[str, Any]) -> Thread:
    """The same thread under other words; what is left out stays as it is."""
    with store.writing() as session:
        return _written(session, store, _row(session, thread), said)


def put_thread_away(store: Store, thread: str, away: bool) -> Thread:
    """Put away, or brought back."""
    with store.writing() as session:
        row = _row(session, thread)
        row.away_at = (row.away_at or store.stamp()) if away else None
        session.flush()
        return _thread(row, _left(session))


def move_thread(store: Store, thread: str, mm: float, why: str, piece: str | None = None) -> Thread:
    """``mm`` more of a thread, or fewer."""
    with store.writing() as session:
        row = _row(session, thread)
        _move(session, store, row.id, (mm, why, piece))
        return _thread(row, _left(session))


def _plain() -> dict[str, Any]:
    plain = Words("")
    return {name: getattr(plain, name) for name in COLUMNS}


def _written(session: Session, store: Store, row: ThreadRow, said: Mapping[str, Any]) -> Thread:
    for name in COLUMNS:
        if name in said:
            setattr(row, name, said[name])
    row.sought, row.changed = row.name.casefold(), store.stamp()
    session.flush()
    wanted = said.get("left_mm")
    if wanted is not None:
        now = _left(session).get(row.id, 0.0)
        if abs(wanted - now) > 1e-6:
            _move(session, store, row.id, (wanted - now, BY_HER_WORD, None))
    return _thread(row, _left(session))


def _move(session: Session, store: Store, thread: str, what: tuple[float, str, str | None]) -> None:
    mm, why, piece = what
    session.add(MoveRow(id=uuid4().hex, thread=thread, at=store.stamp(), mm=mm, why=why, piece=piece))
    session.flush()


def _row(session: Session, thread: str) -> ThreadRow:
    row = session.get(ThreadRow, thread)
    if row is None:
        raise MissingError("thread", "there is no such thread here; look for it in the drawer")
    return row


def _left(session: Session) -> dict[str, float]:
    """What is left by thread."""
    summed = session.execute(select(MoveRow.thread, func.sum(MoveRow.mm)).group_by(MoveRow.thread))
    moved = {thread: float(mm) for thread, mm in summed}
    used = _used(session)
    owners: dict[str, str] = {}
    # The first of a name that is not put away is the one that pieces are stitched from.
    for id_, sought in session.execute(select(ThreadRow.id, ThreadRow.sought).order_by(_FIRST, ThreadRow.id)):
        owners.setdefault(sought, id_)
    for name, mm in used.items():
        if name in owners:
            moved[owners[name]] = moved.get(owners[name], 0.0) - mm
    return moved


_FIRST = ThreadRow.away_at.is_not(None)


def _used(session: Session) -> dict[str, float]:
    summed = session.execute(select(UseRow.name, func.sum(UseRow.mm)).group_by(UseRow.name))
    return {name: float(mm) for name, mm in summed}


def _thread(row: ThreadRow, left: Mapping[str, float]) -> Thread:
    words = Words(**{name: getattr(row, name) for name in COLUMNS})
    return Thread(row.id, words, left.get(row.id, 0.0), row.away_at is not None, row.changed)
