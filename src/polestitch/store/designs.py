"""Designs and their revisions: made, saved, read again.

In: an open store.  Out: cards, documents, revision numbers.  A save that builds on an old revision is kept
beside as a design of its own: nothing is lost, and nothing wins in silence.
"""

import hashlib
import json
from dataclasses import dataclass, replace
from functools import cached_property
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
OTHER_WINDOW, COPY = "other window", "copy"
MOST_TAGS, LONGEST_TAG, LONGEST_LABEL = 20, 40, 80


class MissingError(DesignError):
    """There is no such thing in the store."""


@dataclass(frozen=True)
class Change:
    """A document as it now is in the window ``tab``, made from revision ``base``; ``label`` names the moment."""

    base: int
    raw: Raw
    tab: str = ""
    label: str | None = None

    @cached_property
    def text(self) -> str:
        """The document as text to keep; ``DesignError`` for what no file can hold."""
        return document_text(self.raw)


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
    document: str  # SHA-256 of its text


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
    change = Change(0, raw, tab)
    document_text(raw)  # refused before anybody waits for the database
    with store.writing() as session:
        row = _added(session, store, change)
        _put_tags(session, row.id, tags)
        return card(session, row)


def document(store: Store, design: str, revision: int | None = None) -> tuple[Card, Raw]:
    """The design's card and its document, of its newest revision or of the one asked for."""
    with store.reading() as session:
        row = design_row(session, design)
        sha = row.document if revision is None else _revision_row(session, design, revision).document
        return card(session, row), json.loads(_text(session, sha))


def copied(store: Store, design: str, revision: int | None = None) -> Raw:
    """A document to begin a new design with, under a name that tells where it comes from."""
    raw = document(store, design, revision)[1]
    return named(raw, with_suffix(name_of(raw), COPY))


def revisions(store: Store, design: str) -> tuple[Revision, ...]:
    """The whole timeline, the newest first."""
    with store.reading() as session:
        design_row(session, design)
        query = select(RevisionRow).where(RevisionRow.design == design).order_by(RevisionRow.number.desc())
        return tuple(Revision(row.number, row.at, row.label, row.document) for row in session.scalars(query))


def saved(store: Store, design: str, change: Change) -> Saved:
    """Keep a change; beside, as a design of its own, if another window has changed the design meanwhile."""
    sha = sha_of(change.text)
    with store.writing() as session:
        row = design_row(session, design)
        if sha == row.document:
            return Saved(row.revision)
        if change.base == row.revision or _all_mine(session, row, change):
            _next(session, store, row, change)
            return Saved(row.revision)
        return Saved(row.revision, card(session, _beside(session, store, row, change)))


def label_revision(store: Store, design: str, revision: int, label: str | None) -> None:
    """Name a revision, or take its name away."""
    with store.writing() as session:
        _revision_row(session, design, revision).label = _label(label)


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


def _added(session: Session, store: Store, change: Change) -> DesignRow:
    row = DesignRow(id=uuid4().hex, revision=0)
    show_of(row, change.text, store.stamp())
    row.document = keep_text(session, change.text)
    session.add(row)
    session.flush()
    _next(session, store, row, change)
    return row


def _next(session: Session, store: Store, row: DesignRow, change: Change) -> None:
    row.document = keep_text(session, change.text)
    row.revision += 1
    show_of(row, change.text, store.stamp())
    entry = RevisionRow(design=row.id, number=row.revision, document=row.document, at=row.changed, tab=change.tab)
    entry.label = _label(change.label)
    session.add(entry)
    session.flush()


def show_of(row: DesignRow, text: str, stamp: str) -> None:
    """Write beside the design what the shelf shows."""
    seen = told(text)
    row.name, row.sought, row.division, row.around_mm = seen.name, seen.name.casefold(), seen.division, seen.around_mm
    row.wrong_where, row.wrong_what = seen.wrong or (None, None)
    row.changed = stamp


def _all_mine(session: Session, row: DesignRow, change: Change) -> bool:
    """Whether everything since its base came from the same window: an answer was lost on its way, no more."""
    query = select(RevisionRow.tab).where(RevisionRow.design == row.id, RevisionRow.number > change.base)
    return bool(change.tab) and 0 < change.base < row.revision and set(session.scalars(query)) == {change.tab}


def _beside(session: Session, store: Store, row: DesignRow, change: Change) -> DesignRow:
    """The design that keeps this window's changes since they parted."""
    renamed = replace(change, raw=named(change.raw, with_suffix(name_of(change.raw), OTHER_WINDOW)))
    parted = (row.id, change.base, change.tab)
    columns = (DesignRow.split_of, DesignRow.split_base, DesignRow.split_tab)
    query = select(DesignRow).where(*(column == value for column, value in zip(columns, parted)))
    sibling = session.scalars(query).first() if change.tab else None
    if sibling is None:
        sibling = _added(session, store, renamed)
        sibling.split_of, sibling.split_base, sibling.split_tab = parted
    elif sha_of(renamed.text) != sibling.document:
        _next(session, store, sibling, renamed)
    return sibling


def _label(label: str | None) -> str | None:
    return (label or "").strip()[:LONGEST_LABEL] or None


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
