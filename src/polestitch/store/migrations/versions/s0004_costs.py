"""The fourth shape: what she pays and asks."""

import sqlalchemy as sa
from alembic import op

revision = "0004"
down_revision = "0003"


def upgrade() -> None:
    """Make the table of costs."""
    op.create_table(
        "costs",
        sa.Column("id", sa.String(32), primary_key=True),
        sa.Column("said", sa.Text, nullable=False),
        sa.Column("changed", sa.String(32), nullable=False),
    )
