"""Designs and their revisions: made, saved, read again.

In: an open store.  Out: cards, documents, revision numbers.  A save that builds on an old revision is kept
beside as a design of its own: nothing is lost, and nothing wins in silence.
"""

import hashlib
import json
from dataclasses import dataclass
from typing import Any
from uuid import uuid4

from sqlalchemy import select
from sqlalchemy.orm import Session

from polestitch.document.jsontext import json_object
from polestitch.errors import DesignError
from polestitch.store.shelf import Card, card
from polestitch.store.store import Store
from polestitch.store.tables import DesignRow, DocumentRow, RevisionRow, TagRow
from polestitch.store.told import name_of, named, told, with_suffix

Raw = dict[str, Any]
OTHER_WINDOW = "other window"
MOST_TAGS, LONGEST_TAG, LONGEST_LABEL = 20, 40, 80


class MissingError(DesignError):
    """There is no such thing in the store."""


@dataclass(frozen=True)
class Saved:
    """What became of a save: ``revision`` is the design's newest; ``kept_as`` where the change went beside."""

    revision: int
    kept_as: Card | None = None


@dataclass(frozen=True)
class Revision:
    """One entry of the timeline."""

    revision: int
    at: str
    label: str | None


def document_text(raw: Raw) -> str:
    """A document as text to keep; ``DesignError`` for what no file can hold."""
    try:
        text = json.dumps(raw, indent=2, ensure_ascii=False, allow_nan=False)
    except (ValueError, RecursionError):
        raise DesignError("document", "holds a number that is none, or brackets without end") from None
    json_object(text, "document")
    return text


def add_design(store: Store, raw: Raw, tags: tuple[str, ...] = (), tab: str = "") -> Card:
    """A new design whose first revision is ``raw``."""
    text = document_text(raw)
    with store.writing() as session:
        row = _added(session, store, text, tab)
        _put_tags(session, row.id, tags)
        return card(session, row)


def document(store: Store, design: str, revision: int | None = None) -> tuple[Card, Raw]:
    """The design's card and its document, of its newest revision or of the one asked for."""
    with store.reading() as session:
        row = design_row(session, design)
        sha = row.document if revision is None else _revision_row(session, design, revision).document
        return card(session, row), json.loads(_text(session, sha))


def revisions(store: Store, design: str) -> tuple[Revision, ...]:
    """The whole timeline, the newest first."""
    with store.reading() as session:
        design_row(session, design)
        query = select(RevisionRow).where(RevisionRow.design == design).order_by(RevisionRow.number.desc())
        return tuple(Revision(row.number, row.at, row.label) for row in session.scalars(query))


def saved(store: Store, design: str, base: int, raw: Raw, tab: str, label: str | None = None) -> Saved:
    """Keep ``raw``, which was made from revision ``base`` in the window ``tab``."""
    text = document_text(raw)
    with store.writing() as session:
        row = design_row(session, design)
        if sha_of(text) == row.document:
            return Saved(row.revision)
        if base == row.revision or _all_mine(session, row, base, tab):
            _next(session, store, row, text, tab, label)
            return Saved(row.revision)
        return Saved(row.revision, card(session, _beside(session, store, row, base, raw, tab)))


def label_revision(store: Store, design: str, revision: int, label: str | None) -> None:
    """Name a revision, or take its name away."""
    with store.writing() as session:
        _revision_row(session, design, revision).label = (label or "").strip()[:LONGEST_LABEL] or None


def change_card(store: Store, design: str, tags: tuple[str, ...] | None, away: bool | None) -> Card:
    """Other tags; put away or brought back."""
    with store.writing() as session:
        row = design_row(session, design)
        if tags is not None:
            _put_tags(session, design, tags)
        if away is not None:
            row.away_at = (row.away_at or store.stamp()) if away else None
        return card(session, row)


def note_wrong(store: Store, design: str, revision: int, wrong: tuple[str, str] | None) -> None:
    """Write down what building the revision said, if it is still the newest."""
    with store.reading() as session:
        row = design_row(session, design)
        if row.revision != revision or (row.wrong_where, row.wrong_what) == (wrong or (None, None)):
            return
    with store.writing() as session:
        row = design_row(session, design)
        if row.revision == revision:
            row.wrong_where, row.wrong_what = wrong or (None, None)


def design_row(session: Session, design: str) -> DesignRow:
    """The design's row; ``MissingError`` where there is none."""
    row = session.get(DesignRow, design)
    if row is None:
        raise MissingError("design", "there is no such design here; look for it on the shelf")
    return row


def sha_of(text: str) -> str:
    """SHA-256 of a document's text."""
    return hashlib.sha256(text.encode()).hexdigest()


def keep_text(session: Session, text: str) -> str:
    """The name of a document's text, now kept."""
    sha = sha_of(text)
    if session.get(DocumentRow, sha) is None:
        session.add(DocumentRow(sha=sha, text=text))
        session.flush()
    return sha


def _added(session: Session, store: Store, text: str, tab: str) -> DesignRow:
    row = DesignRow(id=uuid4().hex, revision=0)
    show_of(row, text, store.stamp())
    row.document = keep_text(session, text)
    session.add(row)
    session.flush()
    _next(session, store, row, text, tab, None)
    return row


def _next(session: Session, store: Store, row: DesignRow, text: str, tab: str, label: str | None) -> None:
    stamp, label = store.stamp(), (label or "").strip()[:LONGEST_LABEL] or None
    row.document = keep_text(session, text)
    row.revision += 1
    show_of(row, text, stamp)
    entry = RevisionRow(design=row.id, number=row.revision, document=row.document, at=stamp, label=label, tab=tab)
    session.add(entry)
    session.flush()


def show_of(row: DesignRow, text: str, stamp: str) -> None:
    """Write beside the design what the shelf shows."""
    seen = told(text)
    row.name, row.sought, row.division, row.around_mm = seen.name, seen.name.casefold(), seen.division, seen.around_mm
    row.wrong_where, row.wrong_what = seen.wrong or (None, None)
    row.changed = stamp


def _all_mine(session: Session, row: DesignRow, base: int, tab: str) -> bool:
    """Whether everything since ``base`` came from the same window: an answer was lost on its way, no more."""
    query = select(RevisionRow.tab).where(RevisionRow.design == row.id, RevisionRow.number > base)
    return bool(tab) and 0 < base < row.revision and set(session.scalars(query)) == {tab}


def _beside(session: Session, store: Store, row: DesignRow, base: int, raw: Raw, tab: str) -> DesignRow:
    """The design that keeps this window's changes since ``base``."""
    text = document_text(named(raw, with_suffix(name_of(raw), OTHER_WINDOW)))
    query = select(DesignRow).where(
        DesignRow.split_of == row.id, DesignRow.split_base == base, DesignRow.split_tab == tab
    )
    sibling = session.scalars(query).first() if tab else None
    if sibling is None:
        sibling = _added(session, store, text, tab)
        sibling.split_of, sibling.split_base, sibling.split_tab = row.id, base, tab
    elif sha_of(text) != sibling.document:
        _next(session, store, sibling, text, tab, None)
    return sibling


def _put_tags(session: Session, design: str, tags: tuple[str, ...]) -> None:
    words = dict.fromkeys(" ".join(tag.split())[:LONGEST_TAG] for tag in tags)
    words.pop("", None)
    for old in session.scalars(select(TagRow).where(TagRow.design == design)):
        session.delete(old)
    session.flush()
    session.add_all(TagRow(design=design, tag=tag) for tag in list(words)[:MOST_TAGS])
    session.flush()


def _revision_row(session: Session, design: str, number: int) -> RevisionRow:
    row = session.get(RevisionRow, (design, number))
    if row is None:
        raise MissingError("revision", "there is no such version of this design; look at its timeline")
    return row


def _text(session: Session, sha: str) -> str:
    row = session.get_one(DocumentRow, sha)
    return row.text
