"""Pieces: balls being made, their plans as written down, what was done, photos.

In: an open store.  Out: ``Piece`` records, events, packed parts.  A plan is written down once, when a piece begins or
is planned anew, so that a step's number means the same step for ever.  Events are kept once by their id.
"""

import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any
from uuid import uuid4

from sqlalchemy import delete, select
from sqlalchemy.orm import Session

from polestitch.errors import DesignError
from polestitch.store.designs import MissingError, keep_text
from polestitch.store.store import Store
from polestitch.store.tables import DocumentRow, EventRow, PartRow, PhotoRow, PieceRow, UseRow

Event = dict[str, Any]
MOST_EVENTS, MOST_PHOTOS = 200_000, 500


@dataclass(frozen=True)
class Planned:
    """A plan to keep: ``told`` is plain data, ``parts`` are packed bytes by name."""

    text: str
    revision: int
    told: Mapping[str, Any]
    parts: Mapping[str, bytes]


@dataclass(frozen=True)
class Piece:
    """One piece; ``told`` is what was written down of its plan."""

    id: str
    name: str
    design: str
    revision: int
    document: str
    begun: str
    changed: str
    away: bool
    told: dict[str, Any]


def add_piece(store: Store, name: str, design: str, planned: Planned) -> Piece:
    """A piece that begins."""
    with store.writing() as session:
        stamp = store.stamp()
        row = PieceRow(id=uuid4().hex, name=name, design=design, begun=stamp, changed=stamp)
        row.document = keep_text(session, planned.text)
        _plan(session, row, planned)
        return _piece(row)


def pieces(store: Store, away: bool = False) -> tuple[Piece, ...]:
    """All that are not put away, the one worked on last first; with ``away`` those too."""
    with store.reading() as session:
        query = select(PieceRow).order_by(PieceRow.changed.desc(), PieceRow.id)
        return tuple(map(_piece, session.scalars(query if away else query.where(PieceRow.away_at.is_(None)))))


def piece(store: Store, id_: str) -> Piece:
    """One of them."""
    with store.reading() as session:
        return _piece(piece_row(session, id_))


def piece_text(store: Store, id_: str) -> str:
    """Its document."""
    with store.reading() as session:
        return session.get_one(DocumentRow, piece_row(session, id_).document).text


def put_piece_away(store: Store, id_: str, away: bool) -> Piece:
    """Put away, or brought back."""
    with store.writing() as session:
        row = piece_row(session, id_)
        row.away_at = (row.away_at or store.stamp()) if away else None
        return _piece(row)


def part(store: Store, id_: str, name: str) -> bytes | None:
    """A part of its plan."""
    with store.reading() as session:
        piece_row(session, id_)
        row = session.get(PartRow, (id_, name))
        return None if row is None else row.data


def events(store: Store, id_: str, after: int = 0) -> tuple[list[Event], int]:
    """What was done since the ``after``-th that this store has seen, and the number of the last."""
    with store.reading() as session:
        piece_row(session, id_)
        query = select(EventRow.n, EventRow.body).where(EventRow.piece == id_, EventRow.n > after).order_by(EventRow.n)
        rows = session.execute(query).all()
        return [json.loads(row.body) for row in rows], rows[-1].n if rows else after


def keep_events(store: Store, id_: str, told: Sequence[Event]) -> list[Event]:
    """All events of the piece, those told now among them; ``DesignError`` for too many."""
    with store.writing() as session:
        row = piece_row(session, id_)
        known = dict(_bodies(session, id_))
        fresh = {event["id"]: event for event in told if event["id"] not in known}
        taken = set(session.scalars(select(EventRow.id).where(EventRow.id.in_(list(fresh)))))
        if len(known) + len(fresh) > MOST_EVENTS:
            raise DesignError("events", "this piece has more events than it can keep; begin a new piece")
        for each, event in fresh.items():
            if each not in taken:
                session.add(EventRow(id=each, piece=id_, body=json.dumps(event, ensure_ascii=False)))
        if fresh:
            row.changed = store.stamp()
        session.flush()
        return [json.loads(body) for _, body in _bodies(session, id_)]


def keep_uses(store: Store, id_: str, uses: Mapping[str, float]) -> None:
    """What the piece has taken of each thread, by name, in all."""
    summed: dict[str, float] = {}
    for name, mm in uses.items():
        summed[name.casefold()] = summed.get(name.casefold(), 0.0) + mm
    with store.writing() as session:
        session.execute(delete(UseRow).where(UseRow.piece == id_))
        session.add_all(UseRow(piece=id_, name=name, mm=mm) for name, mm in summed.items() if mm > 0)


def replan(store: Store, id_: str, planned: Planned) -> Piece:
    """The same piece by another plan."""
    with store.writing() as session:
        row = piece_row(session, id_)
        row.document = keep_text(session, planned.text)
        row.changed = store.stamp()
        session.execute(delete(PartRow).where(PartRow.piece == id_))
        _plan(session, row, planned)
        return _piece(row)


def add_photo(store: Store, id_: str, data: bytes) -> str:
    """The name of a photo, now kept; ``DesignError`` for too many."""
    with store.writing() as session:
        piece_row(session, id_)
        if len(session.scalars(select(PhotoRow.id).where(PhotoRow.piece == id_)).all()) >= MOST_PHOTOS:
            raise DesignError("photo", f"a piece keeps {MOST_PHOTOS} photos and has as many already")
        row = PhotoRow(id=uuid4().hex, piece=id_, at=store.stamp(), data=data)
        session.add(row)
        session.flush()
        return row.id


def photo(store: Store, id_: str, name: str) -> bytes:
    """A photo's bytes; ``MissingError`` where the piece has none of that name."""
    with store.reading() as session:
        row = session.get(PhotoRow, name)
        if row is None or row.piece != id_:
            raise MissingError("photo", "there is no such photo of this piece")
        return row.data


def piece_row(session: Session, id_: str) -> PieceRow:
    """The piece's row; ``MissingError`` where there is none."""
    row = session.get(PieceRow, id_)
    if row is None:
        raise MissingError("piece", "there is no such piece here; look for it beside your chair")
    return row


def _plan(session: Session, row: PieceRow, planned: Planned) -> None:
    row.revision, row.told = planned.revision, json.dumps(planned.told, ensure_ascii=False)
    session.add(row)
    session.flush()
    session.add_all(PartRow(piece=row.id, name=name, data=data) for name, data in planned.parts.items())
    session.flush()


def _bodies(session: Session, id_: str) -> Sequence[tuple[str, str]]:
    query = select(EventRow.id, EventRow.body).where(EventRow.piece == id_).order_by(EventRow.n)
    return [(row.id, row.body) for row in session.execute(query)]


def _piece(row: PieceRow) -> Piece:
    told = json.loads(row.told)
    away = row.away_at is not None
    return Piece(row.id, row.name, row.design, row.revision, row.document, row.begun, row.changed, away, told)
