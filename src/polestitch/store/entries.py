"""Records of finished pieces, and shows: made, kept, put away, with what they were before.

In: an open store; bodies as plain data that somebody has checked.  Out: ``Entry`` records.  A change that builds on
an old version is refused, so that no window writes over another; nothing is ever deleted.
"""

import json
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Any, Literal
from uuid import uuid4

from sqlalchemy import delete, select
from sqlalchemy.orm import Session

from polestitch.errors import DesignError
from polestitch.store.designs import MissingError, keep_text
from polestitch.store.store import Store
from polestitch.store.tables import DocumentRow, EntryRow, EntryVersionRow

Kind = Literal["piece", "show"]
Body = dict[str, Any]
NAMED: dict[Kind, str] = {"piece": "number", "show": "title"}  # the key of the body that an entry is found by
STRETCH = timedelta(minutes=2)  # writing of one window within it is one version
MOST_VERSIONS = 200


class NewerError(DesignError):
    """Another window has kept a change meanwhile."""


@dataclass(frozen=True)
class Entry:
    """One of them as it is now; ``document`` is the SHA-256 of the design document it was stitched from."""

    id: str
    kind: str
    name: str
    version: int
    body: Body
    document: str | None
    begun: str
    changed: str
    away: bool


@dataclass(frozen=True)
class Keep:
    """A body as it now is in the window ``tab``, made from version ``base``; ``text`` is a document to go with it."""

    body: Body
    base: int = 0
    tab: str = ""
    text: str | None = None


@dataclass(frozen=True)
class Version:
    """What an entry was."""

    number: int
    at: str
    body: Body


def add_entry(store: Store, kind: Kind, first: Keep) -> Entry:
    """A new one; ``DesignError`` where a piece has its number already."""
    with store.writing() as session:
        stamp = store.stamp()
        row = EntryRow(id=uuid4().hex, kind=kind, version=0, begun=stamp)
        row.name = str(first.body[NAMED[kind]])
        _refuse_taken(session, row)
        _write(session, row, first, stamp)
        return _entry(row)


def entries(store: Store, kind: Kind, away: bool = False) -> tuple[Entry, ...]:
    """All of a kind, the first begun first: those in use, or those put away."""
    border = EntryRow.away_at.is_not(None) if away else EntryRow.away_at.is_(None)
    with store.reading() as session:
        query = select(EntryRow).where(EntryRow.kind == kind, border).order_by(EntryRow.begun, EntryRow.id)
        return tuple(map(_entry, session.scalars(query)))


def entry(store: Store, kind: Kind, id_: str) -> Entry:
    """One of them; ``MissingError`` where there is none."""
    with store.reading() as session:
        return _entry(entry_row(session, id_, kind))


def entry_text(store: Store, found: Entry) -> str | None:
    """The design document it was stitched from, if one is known."""
    with store.reading() as session:
        row = None if found.document is None else session.get(DocumentRow, found.document)
        return None if row is None else row.text


def keep_entry(store: Store, kind: Kind, id_: str, change: Keep) -> Entry:
    """The same one with another body; ``NewerError`` where another window was quicker."""
    with store.writing() as session:
        row = entry_row(session, id_, kind)
        if change.base != row.version and not _all_mine(session, row, change):
            raise NewerError("version", "another window has changed this meanwhile; open it again to see what changed")
        old, row.name = row.name, str(change.body[NAMED[kind]])
        stamp = store.stamp()
        if old != row.name:
            _refuse_taken(session, row)
            _renumber(session, row, old, stamp)
        if change.text is not None or _text_of(change.body) != row.body:
            _write(session, row, change, stamp)
        return _entry(row)


def put_entry_away(store: Store, kind: Kind, id_: str, away: bool) -> Entry:
    """Put away, or brought back; ``DesignError`` where another piece has taken its number meanwhile."""
    with store.writing() as session:
        row = entry_row(session, id_, kind)
        if row.away_at is not None and not away:
            _refuse_taken(session, row)
        row.away_at = (row.away_at or store.stamp()) if away else None
        return _entry(row)


def entry_versions(store: Store, kind: Kind, id_: str) -> tuple[Version, ...]:
    """What it was, the newest first; the first of them is what it is."""
    with store.reading() as session:
        entry_row(session, id_, kind)
        query = select(EntryVersionRow).where(EntryVersionRow.entry == id_).order_by(EntryVersionRow.number.desc())
        return tuple(Version(row.number, row.at, json.loads(row.body)) for row in session.scalars(query))


def entry_row(session: Session, id_: str, kind: Kind) -> EntryRow:
    """The row; ``MissingError`` where there is none of that kind."""
    row = session.get(EntryRow, id_)
    if row is None or row.kind != kind:
        raise MissingError(kind, f"there is no such {kind} here; look for it among all {kind}s")
    return row


def is_taken(session: Session, row: EntryRow) -> EntryRow | None:
    """Another piece in use that has the same number."""
    query = select(EntryRow).where(EntryRow.kind == "piece", EntryRow.away_at.is_(None), EntryRow.name == row.name)
    return None if row.kind != "piece" else session.scalars(query.where(EntryRow.id != row.id)).first()


def _refuse_taken(session: Session, row: EntryRow) -> None:
    with session.no_autoflush:
        other = is_taken(session, row)
    if other is not None:
        title = json.loads(other.body).get("title", "")
        raise DesignError("number", f'{row.name} is the number of "{title}" already; give this piece another')


def _renumber(session: Session, row: EntryRow, old: str, stamp: str) -> None:
    """Shows go on naming the piece, now by its new number."""
    if row.kind != "piece":
        return
    with session.no_autoflush:
        shows = session.scalars(select(EntryRow).where(EntryRow.kind == "show")).all()
    for show in shows:
        body = json.loads(show.body)
        mine = [shown for shown in body.get("shown", ()) if shown.get("number") == old]
        for shown in mine:
            shown["number"] = row.name
        if mine:
            _write(session, show, Keep(body), stamp)


def _write(session: Session, row: EntryRow, change: Keep, stamp: str) -> None:
    begun = _begun(session, row, change, stamp)
    if change.text is not None:
        row.document = keep_text(session, change.text)
    row.body, row.changed = _text_of(change.body), stamp
    row.version += 1
    session.add(row)
    session.flush()
    number = row.version
    kept = EntryVersionRow(entry=row.id, number=number, begun=begun, at=stamp, tab=change.tab, body=row.body)
    session.add(kept)
    mine = EntryVersionRow.entry == row.id
    numbers = select(EntryVersionRow.number).where(mine).order_by(EntryVersionRow.number.desc())
    session.flush()
    for over in session.scalars(numbers.offset(MOST_VERSIONS)).all():
        session.execute(delete(EntryVersionRow).where(mine, EntryVersionRow.number == over))


def _begun(session: Session, row: EntryRow, change: Keep, stamp: str) -> str:
    """When this stretch of writing began; what the same window wrote a moment ago makes room for it."""
    with session.no_autoflush:
        last = session.get(EntryVersionRow, (row.id, row.version))
    if last is None or not change.tab or last.tab != change.tab:
        return stamp
    if datetime.fromisoformat(stamp) - datetime.fromisoformat(last.begun) > STRETCH:
        return stamp
    begun = last.begun
    session.delete(last)
    return begun


def _all_mine(session: Session, row: EntryRow, change: Keep) -> bool:
    """Whether everything since its base came from the same window: an answer was lost on its way, no more."""
    query = select(EntryVersionRow.tab).where(EntryVersionRow.entry == row.id, EntryVersionRow.number > change.base)
    return bool(change.tab) and 0 < change.base < row.version and set(session.scalars(query)) == {change.tab}


def _text_of(body: Body) -> str:
    return json.dumps(body, ensure_ascii=False, allow_nan=False)


def _entry(row: EntryRow) -> Entry:
    away = row.away_at is not None
    body = json.loads(row.body)
    return Entry(row.id, row.kind, row.name, row.version, body, row.document, row.begun, row.changed, away)
