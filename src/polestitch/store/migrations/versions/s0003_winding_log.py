"""The third shape: what she wound, so that plans learn from it."""

import sqlalchemy as sa
from alembic import op

revision = "0003"
down_revision = "0002"


def upgrade() -> None:
    """Make the log of wraps."""
    op.create_table(
        "wound",
        sa.Column("id", sa.String(32), primary_key=True),
        sa.Column("material", sa.Text, nullable=False),
        *(sa.Column(name, sa.Float, nullable=False) for name in ("before_mm", "after_mm", "grams")),
        sa.Column("note", sa.Text),
        sa.Column("away_at", sa.String(32)),
        sa.Column("changed", sa.String(32), nullable=False),
    )
