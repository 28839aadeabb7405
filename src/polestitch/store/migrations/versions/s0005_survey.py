"""The fifth shape: readings of a design's pins."""

import sqlalchemy as sa
from alembic import op

revision = "0005"
down_revision = "0004"


def upgrade() -> None:
    """Make what the pin survey keeps."""
    op.create_table(
        "surveys",
        sa.Column("design", sa.String(32), sa.ForeignKey("designs.id", ondelete="CASCADE"), primary_key=True),
        sa.Column("number", sa.Integer, nullable=False),
        sa.Column("changed", sa.String(32), nullable=False),
        sa.Column("told", sa.Text, nullable=False),
    )
