"""The seventh shape: classes."""

import sqlalchemy as sa
from alembic import op

revision = "0007"
down_revision = "0006"


def upgrade() -> None:
    """Make what classes are kept in."""
    op.create_table(
        "classes",
        sa.Column("id", sa.String(32), primary_key=True),
        *(sa.Column(name, sa.Text, nullable=False) for name in ("title", "sought", "document")),
        sa.Column("design", sa.String(32)),
        sa.Column("number", sa.Integer, nullable=False),
        sa.Column("changed", sa.String(32), nullable=False),
        sa.Column("away_at", sa.String(32)),
    )
