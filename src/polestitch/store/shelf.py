"""The shelf: cards of designs, found by words and tags, and what has been put away.

In: an open store.  Out: ``Card`` records in order; no document is read.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Any, Literal

from sqlalchemy import ColumnElement, UnaryExpression, delete, func, select
from sqlalchemy.orm import Session

from polestitch.store.store import Store
from polestitch.store.tables import DesignRow, DocumentRow, EntryRow, PieceRow, RevisionRow, TagRow

Sort = Literal["changed", "name", "around"]
KEPT_AWAY = timedelta(days=30)


# Columns alone, in the order of _card: whole rows as objects take five times as long.
SHOWN = (
    DesignRow.id,
    DesignRow.name,
    DesignRow.division,
    DesignRow.around_mm,
    DesignRow.changed,
    DesignRow.revision,
    DesignRow.document,
    DesignRow.away_at,
    DesignRow.wrong_where,
    DesignRow.wrong_what,
)


@dataclass(frozen=True)
class Card:
    """What the shelf shows of one design."""

    id: str
    name: str
    tags: tuple[str, ...]
    division: str
    around_mm: float | None
    changed: str
    revision: int
    document: str  # SHA-256 of its text
    away_at: str | None
    wrong: tuple[str, str] | None

    @property
    def away_until(self) -> str | None:
        """When it goes for good, if it has been put away."""
        return None if self.away_at is None else (datetime.fromisoformat(self.away_at) + KEPT_AWAY).isoformat()


@dataclass(frozen=True)
class Wanted:
    """What to look for: words of the name or a tag, one tag, on the shelf or put away."""

    search: str = ""
    tag: str | None = None
    away: bool = False
    sort: Sort = "changed"
    start: int = 0
    count: int = 60


@dataclass(frozen=True)
class Shelf:
    """One stretch of the shelf, how many there are in all, and every tag in use."""

    cards: tuple[Card, ...]
    total: int
    tags: tuple[str, ...]


def shelf(store: Store, wanted: Wanted) -> Shelf:
    """The cards that are wanted."""
    conditions = _conditions(wanted)
    with store.reading() as session:
        total = session.scalar(select(func.count()).select_from(DesignRow).where(*conditions)) or 0
        query = select(*SHOWN).where(*conditions).order_by(*_order(wanted.sort))
        rows = session.execute(query.offset(wanted.start).limit(wanted.count))
        cards = _cards(session, rows)
        tags = session.scalars(select(TagRow.tag).distinct().order_by(TagRow.tag)).all()
        return Shelf(cards, total, tuple(tags))


def card(session: Session, row: DesignRow) -> Card:
    """One design's card."""
    session.flush()
    return _cards(session, session.execute(select(*SHOWN).where(DesignRow.id == row.id)))[0]


def is_empty(store: Store) -> bool:
    """Whether there is not one design, not even put away."""
    with store.reading() as session:
        return session.scalar(select(DesignRow.id).limit(1)) is None


def clear_away(store: Store) -> int:
    """How many designs went for good, since they were put away more than thirty days ago."""
    border = (store.clock() - KEPT_AWAY).isoformat(timespec="microseconds")
    with store.writing() as session:
        gone = session.scalars(select(DesignRow.id).where(DesignRow.away_at < border)).all()
        session.execute(delete(DesignRow).where(DesignRow.id.in_(gone)))
        if gone:
            told = select(EntryRow.document).where(EntryRow.document.is_not(None))
            used = select(RevisionRow.document).union(select(PieceRow.document), told)
            session.execute(delete(DocumentRow).where(DocumentRow.sha.not_in(used)))
        return len(gone)


def _conditions(wanted: Wanted) -> list[ColumnElement[bool]]:
    found: list[ColumnElement[bool]] = [DesignRow.away_at.is_not(None) if wanted.away else DesignRow.away_at.is_(None)]
    for word in wanted.search.casefold().split():
        tagged = select(TagRow.design).where(func.lower(TagRow.tag).contains(word, autoescape=True))
        by_name = DesignRow.sought.contains(word, autoescape=True)
        by_division = func.lower(DesignRow.division).contains(word, autoescape=True)
        found.append(by_name | by_division | DesignRow.id.in_(tagged))
    if wanted.tag is not None:
        found.append(DesignRow.id.in_(select(TagRow.design).where(TagRow.tag == wanted.tag)))
    return found


def _order(sort: Sort) -> tuple[UnaryExpression[Any], ...]:
    first: dict[Sort, UnaryExpression[Any]] = {
        "changed": DesignRow.changed.desc(),
        "name": DesignRow.sought.asc(),
        "around": DesignRow.around_mm.asc(),
    }
    return first[sort], DesignRow.id.asc()


def _cards(session: Session, rows: Iterable[Any]) -> tuple[Card, ...]:
    kept = tuple(rows)
    tags: dict[str, list[str]] = {row.id: [] for row in kept}
    query = select(TagRow.design, TagRow.tag).where(TagRow.design.in_(tags)).order_by(TagRow.tag)
    for design, tag in session.execute(query):
        tags[design].append(tag)
    return tuple(_card(row, tuple(tags[row.id])) for row in kept)


def _card(row: Any, tags: tuple[str, ...]) -> Card:
    design, name, division, around, changed, revision, document, away, where, what = row
    wrong = None if what is None else (where or "", what)
    return Card(design, name, tags, division, around, changed, revision, document, away, wrong)
