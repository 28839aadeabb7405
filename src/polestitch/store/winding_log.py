"""What she wound: one wrap of one ball each, by which later plans know how densely she winds.

In: an open store.  Out: ``Wound`` records.  Nothing is thrown away: what was a slip is put away.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any
from uuid import uuid4

from sqlalchemy import select
from sqlalchemy.orm import Session

from polestitch.store.designs import MissingError
from polestitch.store.store import Store
from polestitch.store.tables import WoundRow

COLUMNS = ("material", "before_mm", "after_mm", "grams", "note")


@dataclass(frozen=True)
class Wound:
    """One wrap, or a core (before it there was nothing); circumferences in mm."""

    id: str
    material: str
    before_mm: float
    after_mm: float
    grams: float
    note: str | None
    away: bool
    changed: str


def wound(store: Store, away: bool = False) -> tuple[Wound, ...]:
    """All of it, oldest first: what counts, or what was put away."""
    with store.reading() as session:
        border = WoundRow.away_at.is_not(None) if away else WoundRow.away_at.is_(None)
        return tuple(
            map(_told, session.scalars(select(WoundRow).where(border).order_by(WoundRow.changed, WoundRow.id)))
        )


def add_wound(store: Store, said: Iterable[Mapping[str, Any]]) -> tuple[Wound, ...]:
    """New entries, all of them or none."""
    with store.writing() as session:
        rows = [WoundRow(id=uuid4().hex, changed=store.stamp(), **_words(each)) for each in said]
        session.add_all(rows)
        session.flush()
        return tuple(map(_told, rows))


def put_wound_away(store: Store, entry: str, away: bool) -> Wound:
    """Put away, or brought back."""
    with store.writing() as session:
        row = _row(session, entry)
        row.away_at = (row.away_at or store.stamp()) if away else None
        session.flush()
        return _told(row)


def _words(said: Mapping[str, Any]) -> dict[str, Any]:
    return {name: said.get(name) for name in COLUMNS}


def _row(session: Session, entry: str) -> WoundRow:
    row = session.get(WoundRow, entry)
    if row is None:
        raise MissingError("entry", "there is no such entry in the winding log; look at the log again")
    return row


def _told(row: WoundRow) -> Wound:
    words = {name: getattr(row, name) for name in COLUMNS}
    return Wound(id=row.id, away=row.away_at is not None, changed=row.changed, **words)
