"""The sixth shape: records of finished pieces, shows, their earlier versions, photos."""

import sqlalchemy as sa
from alembic import op

revision = "0006"
down_revision = "0005"


def upgrade() -> None:
    """Make what is kept of finished pieces and shows."""
    op.create_table(
        "entries",
        sa.Column("id", sa.String(32), primary_key=True),
        sa.Column("kind", sa.String(10), nullable=False),
        sa.Column("name", sa.Text, nullable=False),
        sa.Column("version", sa.Integer, nullable=False),
        sa.Column("body", sa.Text, nullable=False),
        sa.Column("document", sa.String(64), sa.ForeignKey("documents.sha")),
        sa.Column("begun", sa.String(32), nullable=False),
        sa.Column("changed", sa.String(32), nullable=False),
        sa.Column("away_at", sa.String(32)),
    )
    op.create_index("entries_of_kind", "entries", ["kind", "away_at", "begun"])
    op.create_table(
        "entry_versions",
        sa.Column("entry", sa.String(32), sa.ForeignKey("entries.id", ondelete="CASCADE"), primary_key=True),
        sa.Column("number", sa.Integer, primary_key=True),
        sa.Column("begun", sa.String(32), nullable=False),
        sa.Column("at", sa.String(32), nullable=False),
        sa.Column("tab", sa.String(64), nullable=False),
        sa.Column("body", sa.Text, nullable=False),
    )
    op.create_table(
        "entry_photos",
        sa.Column("entry", sa.String(32), sa.ForeignKey("entries.id", ondelete="CASCADE"), primary_key=True),
        sa.Column("id", sa.String(32), primary_key=True),
        sa.Column("at", sa.String(32), nullable=False),
        sa.Column("data", sa.LargeBinary, nullable=False),
    )
