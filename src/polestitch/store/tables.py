"""What the database holds: designs, their revisions, the documents these point to, and known pictures.

In: nothing.  Out: SQLAlchemy tables.  A document is kept once, under the SHA-256 of its text, however often a
design returns to it.  Times are ISO 8601 text in UTC, so that they sort.  What the shelf shows of a design is
written beside it when it changes, so that opening the shelf reads no document.
"""

from sqlalchemy import Float, ForeignKey, Index, Integer, String, Text
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
