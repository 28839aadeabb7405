"""The second shape: threads, pieces, events, photos, paired devices."""

import sqlalchemy as sa
from alembic import op

revision = "0002"
down_revision = "0001"


def upgrade() -> None:
    """Make what the drawer and the chair keep."""
    _threads()
    _pieces()
    _events()
    op.create_table(
        "devices",
        sa.Column("id", sa.String(32), primary_key=True),
        sa.Column("name", sa.Text, nullable=False),
        sa.Column("token", sa.String(64), nullable=False, unique=True),
        sa.Column("paired", sa.String(32), nullable=False),
        sa.Column("seen", sa.String(32)),
        sa.Column("until", sa.String(32), nullable=False),
    )


def _threads() -> None:
    words = ("name", "sought", "fibre", "size")
    op.create_table(
        "threads",
        sa.Column("id", sa.String(32), primary_key=True),
        *(sa.Column(name, sa.Text, nullable=False) for name in words),
        sa.Column("colour", sa.String(7), nullable=False),
        *(sa.Column(name, sa.Float) for name in ("rows_per_cm", "skein_mm", "price")),
        *(sa.Column(name, sa.Text) for name in ("currency", "shelf", "lot", "note")),
        sa.Column("away_at", sa.String(32)),
        sa.Column("changed", sa.String(32), nullable=False),
    )
    op.create_index("ix_threads_sought", "threads", ["sought"])
    op.create_table(
        "thread_moves",
        sa.Column("id", sa.String(32), primary_key=True),
        sa.Column("thread", sa.String(32), sa.ForeignKey("threads.id", ondelete="CASCADE"), nullable=False, index=True),
        sa.Column("at", sa.String(32), nullable=False),
        sa.Column("mm", sa.Float, nullable=False),
        sa.Column("why", sa.Text, nullable=False),
        sa.Column("piece", sa.String(32)),
    )


def _of_piece(*, key: bool = False, index: bool = False) -> "sa.Column[str]":
    to = sa.ForeignKey("pieces.id", ondelete="CASCADE")
    return sa.Column("piece", sa.String(32), to, primary_key=key, nullable=False, index=index)


def _pieces() -> None:
    op.create_table(
        "pieces",
        sa.Column("id", sa.String(32), primary_key=True),
        sa.Column("name", sa.Text, nullable=False),
        sa.Column("design", sa.String(32), nullable=False),
        sa.Column("revision", sa.Integer, nullable=False),
        sa.Column("document", sa.String(64), sa.ForeignKey("documents.sha"), nullable=False),
        sa.Column("begun", sa.String(32), nullable=False),
        sa.Column("changed", sa.String(32), nullable=False),
        sa.Column("away_at", sa.String(32)),
        sa.Column("told", sa.Text, nullable=False),
    )
    op.create_table(
        "piece_parts",
        _of_piece(key=True),
        sa.Column("name", sa.String(40), primary_key=True),
        sa.Column("data", sa.LargeBinary, nullable=False),
    )
    op.create_table(
        "piece_photos",
        sa.Column("id", sa.String(32), primary_key=True),
        _of_piece(index=True),
        sa.Column("at", sa.String(32), nullable=False),
        sa.Column("data", sa.LargeBinary, nullable=False),
    )


def _events() -> None:
    op.create_table(
        "piece_events",
        sa.Column("n", sa.Integer, primary_key=True, autoincrement=True),
        sa.Column("id", sa.String(32), nullable=False, unique=True),
        _of_piece(),
        sa.Column("body", sa.Text, nullable=False),
        sqlite_autoincrement=True,
    )
    op.create_index("events_of_piece", "piece_events", ["piece", "n"])
    op.create_table(
        "piece_uses",
        _of_piece(key=True),
        sa.Column("name", sa.Text, primary_key=True),
        sa.Column("mm", sa.Float, nullable=False),
    )
