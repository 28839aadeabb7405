"""What the database holds: designs, documents, threads, pieces, events, devices, wraps, records, shows, classes.

In: nothing.  Out: SQLAlchemy tables.  A document is kept once, under the SHA-256 of its text, however often a
design returns to it.  Times are ISO 8601 text in UTC, so that they sort.  What the shelf shows of a design is
written beside it when it changes, so that opening the shelf reads no document.
"""

from sqlalchemy import Float, ForeignKey, Index, Integer, LargeBinary, String, Text
from sqlalchemy.orm import DeclarativeBase, Mapped, mapped_column


class Table(DeclarativeBase):
    """The base SQLAlchemy asks for."""


class DesignRow(Table):
    """One design: where it stands now, and what the shelf shows of it."""

    __tablename__ = "designs"
    __table_args__ = (Index("designs_changed", "away_at", "changed"),)

    id: Mapped[str] = mapped_column(String(32), primary_key=True)
    revision: Mapped[int] = mapped_column(Integer)
    document: Mapped[str] = mapped_column(ForeignKey("documents.sha"))
    changed: Mapped[str] = mapped_column(String(32))
    away_at: Mapped[str | None] = mapped_column(String(32))
    name: Mapped[str] = mapped_column(Text)
    sought: Mapped[str] = mapped_column(Text)  # the name without capitals, for searching
    division: Mapped[str] = mapped_column(Text)
    around_mm: Mapped[float | None] = mapped_column(Float)
    wrong_where: Mapped[str | None] = mapped_column(Text)
    wrong_what: Mapped[str | None] = mapped_column(Text)
    # The other window whose change this keeps: of which design, on which of its revisions.
    split_of: Mapped[str | None] = mapped_column(String(32))
    split_base: Mapped[int | None] = mapped_column(Integer)
    split_tab: Mapped[str | None] = mapped_column(String(64))


class RevisionRow(Table):
    """One whole document a design has been."""

    __tablename__ = "revisions"

    design: Mapped[str] = mapped_column(ForeignKey("designs.id", ondelete="CASCADE"), primary_key=True)
    number: Mapped[int] = mapped_column(Integer, primary_key=True)
    document: Mapped[str] = mapped_column(ForeignKey("documents.sha"), index=True)
    at: Mapped[str] = mapped_column(String(32))
    label: Mapped[str | None] = mapped_column(String(80))
    tab: Mapped[str] = mapped_column(String(64))


class DocumentRow(Table):
    """A document's text as she wrote it, by its SHA-256."""

    __tablename__ = "documents"

    sha: Mapped[str] = mapped_column(String(64), primary_key=True)
    text: Mapped[str] = mapped_column(Text)


class TagRow(Table):
    """A word she put on a design."""

    __tablename__ = "tags"

    design: Mapped[str] = mapped_column(ForeignKey("designs.id", ondelete="CASCADE"), primary_key=True)
    tag: Mapped[str] = mapped_column(String(40), primary_key=True)


class PictureRow(Table):
    """Which blob is the picture of what: ``key`` tells document, view, size and painter."""

    __tablename__ = "pictures"

    key: Mapped[str] = mapped_column(String(64), primary_key=True)
    blob: Mapped[str] = mapped_column(String(64))


class ThreadRow(Table):
    """A thread she owns or wants.  What is left is counted from its moves and from what pieces took."""

    __tablename__ = "threads"

    id: Mapped[str] = mapped_column(String(32), primary_key=True)
    name: Mapped[str] = mapped_column(Text)
    sought: Mapped[str] = mapped_column(Text, index=True)  # the name without capitals, as designs ask for it
    fibre: Mapped[str] = mapped_column(Text)
    size: Mapped[str] = mapped_column(Text)
    colour: Mapped[str] = mapped_column(String(7))
    rows_per_cm: Mapped[float | None] = mapped_column(Float)
    skein_mm: Mapped[float | None] = mapped_column(Float)
    price: Mapped[float | None] = mapped_column(Float)
    currency: Mapped[str | None] = mapped_column(Text)
    shelf: Mapped[str | None] = mapped_column(Text)
    lot: Mapped[str | None] = mapped_column(Text)
    note: Mapped[str | None] = mapped_column(Text)
    away_at: Mapped[str | None] = mapped_column(String(32))
    changed: Mapped[str] = mapped_column(String(32))


class MoveRow(Table):
    """Thread that came or went by her word."""

    __tablename__ = "thread_moves"

    id: Mapped[str] = mapped_column(String(32), primary_key=True)
    thread: Mapped[str] = mapped_column(ForeignKey("threads.id", ondelete="CASCADE"), index=True)
    at: Mapped[str] = mapped_column(String(32))
    mm: Mapped[float] = mapped_column(Float)
    why: Mapped[str] = mapped_column(Text)
    piece: Mapped[str | None] = mapped_column(String(32))


class PieceRow(Table):
    """One ball being made.  ``told`` is plain data of its plan, written down when it began."""

    __tablename__ = "pieces"

    id: Mapped[str] = mapped_column(String(32), primary_key=True)
    name: Mapped[str] = mapped_column(Text)
    design: Mapped[str] = mapped_column(String(32))  # may have gone from the shelf meanwhile
    revision: Mapped[int] = mapped_column(Integer)
    document: Mapped[str] = mapped_column(ForeignKey("documents.sha"))
    begun: Mapped[str] = mapped_column(String(32))
    changed: Mapped[str] = mapped_column(String(32))
    away_at: Mapped[str | None] = mapped_column(String(32))
    told: Mapped[str] = mapped_column(Text)


class PartRow(Table):
    """A part of a piece's plan, packed: its scene, its steps by the page, what each step takes."""

    __tablename__ = "piece_parts"

    piece: Mapped[str] = mapped_column(ForeignKey("pieces.id", ondelete="CASCADE"), primary_key=True)
    name: Mapped[str] = mapped_column(String(40), primary_key=True)
    data: Mapped[bytes] = mapped_column(LargeBinary)


class EventRow(Table):
    """Something she did, once, however often a device tells it."""

    __tablename__ = "piece_events"
    __table_args__ = (Index("events_of_piece", "piece", "n"), {"sqlite_autoincrement": True})

    n: Mapped[int] = mapped_column(Integer, primary_key=True, autoincrement=True)
    id: Mapped[str] = mapped_column(String(32), unique=True)
    piece: Mapped[str] = mapped_column(ForeignKey("pieces.id", ondelete="CASCADE"))
    body: Mapped[str] = mapped_column(Text)


class UseRow(Table):
    """What a piece has taken of a thread so far: told anew from its steps each time, never added up."""

    __tablename__ = "piece_uses"

    piece: Mapped[str] = mapped_column(ForeignKey("pieces.id", ondelete="CASCADE"), primary_key=True)
    name: Mapped[str] = mapped_column(Text, primary_key=True)  # of the thread, without capitals
    mm: Mapped[float] = mapped_column(Float)


class PhotoRow(Table):
    """A photo of a piece, made anew from its pixels."""

    __tablename__ = "piece_photos"

    id: Mapped[str] = mapped_column(String(32), primary_key=True)
    piece: Mapped[str] = mapped_column(ForeignKey("pieces.id", ondelete="CASCADE"), index=True)
    at: Mapped[str] = mapped_column(String(32))
    data: Mapped[bytes] = mapped_column(LargeBinary)


class ClassRow(Table):
    """A class as its teacher wrote it; ``number`` counts the times it was written down."""

    __tablename__ = "classes"

    id: Mapped[str] = mapped_column(String(32), primary_key=True)
    title: Mapped[str] = mapped_column(Text)
    sought: Mapped[str] = mapped_column(Text)  # the title without capitals, for sorting
    document: Mapped[str] = mapped_column(Text)
    design: Mapped[str | None] = mapped_column(String(32))  # may have gone from the shelf meanwhile
    number: Mapped[int] = mapped_column(Integer)
    changed: Mapped[str] = mapped_column(String(32))
    away_at: Mapped[str | None] = mapped_column(String(32))


class CostsRow(Table):
    """What she pays and asks: one row, a JSON object."""

    __tablename__ = "costs"

    id: Mapped[str] = mapped_column(String(32), primary_key=True)
    said: Mapped[str] = mapped_column(Text)
    changed: Mapped[str] = mapped_column(String(32))


class DeviceRow(Table):
    """A paired device; of its token only the checksum is kept."""

    __tablename__ = "devices"

    id: Mapped[str] = mapped_column(String(32), primary_key=True)
    name: Mapped[str] = mapped_column(Text)
    token: Mapped[str] = mapped_column(String(64), unique=True)
    paired: Mapped[str] = mapped_column(String(32))
    seen: Mapped[str | None] = mapped_column(String(32))
    until: Mapped[str] = mapped_column(String(32))


class WoundRow(Table):
    """One wrap she wound, or a core (``before_mm`` is 0): how large before and after, and what it weighs."""

    __tablename__ = "wound"

    id: Mapped[str] = mapped_column(String(32), primary_key=True)
    material: Mapped[str] = mapped_column(Text)
    before_mm: Mapped[float] = mapped_column(Float)
    after_mm: Mapped[float] = mapped_column(Float)
    grams: Mapped[float] = mapped_column(Float)
    note: Mapped[str | None] = mapped_column(Text)
    away_at: Mapped[str | None] = mapped_column(String(32))
    changed: Mapped[str] = mapped_column(String(32))


class EntryRow(Table):
    """The record of a finished piece, or a show; ``name`` is the piece's number or the show's title."""

    __tablename__ = "entries"
    __table_args__ = (Index("entries_of_kind", "kind", "away_at", "begun"),)

    id: Mapped[str] = mapped_column(String(32), primary_key=True)
    kind: Mapped[str] = mapped_column(String(10))
    name: Mapped[str] = mapped_column(Text)
    version: Mapped[int] = mapped_column(Integer)
    body: Mapped[str] = mapped_column(Text)
    document: Mapped[str | None] = mapped_column(ForeignKey("documents.sha"))  # what the piece was stitched from
    begun: Mapped[str] = mapped_column(String(32))
    changed: Mapped[str] = mapped_column(String(32))
    away_at: Mapped[str | None] = mapped_column(String(32))


class EntryVersionRow(Table):
    """What an entry was at the end of a stretch of writing in one window."""

    __tablename__ = "entry_versions"

    entry: Mapped[str] = mapped_column(ForeignKey("entries.id", ondelete="CASCADE"), primary_key=True)
    number: Mapped[int] = mapped_column(Integer, primary_key=True)
    begun: Mapped[str] = mapped_column(String(32))
    at: Mapped[str] = mapped_column(String(32))
    tab: Mapped[str] = mapped_column(String(64))
    body: Mapped[str] = mapped_column(Text)


class EntryPhotoRow(Table):
    """A photo of a finished piece, made anew from its pixels; the record says which are shown, and in which order."""

    __tablename__ = "entry_photos"

    entry: Mapped[str] = mapped_column(ForeignKey("entries.id", ondelete="CASCADE"), primary_key=True)
    id: Mapped[str] = mapped_column(String(32), primary_key=True)
    at: Mapped[str] = mapped_column(String(32))
    data: Mapped[bytes] = mapped_column(LargeBinary)
