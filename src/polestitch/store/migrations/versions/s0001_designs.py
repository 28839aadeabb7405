"""The first shape: designs, revisions, documents, tags, pictures."""

import sqlalchemy as sa
from alembic import op

revision = "0001"
down_revision = None


def upgrade() -> None:
    """Make every table."""
    op.create_table(
        "documents",
        sa.Column("sha", sa.String(64), primary_key=True),
        sa.Column("text", sa.Text, nullable=False),
    )
    _designs()
    op.create_table(
        "revisions",
        sa.Column("design", sa.String(32), sa.ForeignKey("designs.id", ondelete="CASCADE"), primary_key=True),
        sa.Column("number", sa.Integer, primary_key=True),
        sa.Column("document", sa.String(64), sa.ForeignKey("documents.sha"), nullable=False, index=True),
        sa.Column("at", sa.String(32), nullable=False),
        sa.Column("label", sa.String(80)),
        sa.Column("tab", sa.String(64), nullable=False),
    )
    op.create_table(
        "tags",
        sa.Column("design", sa.String(32), sa.ForeignKey("designs.id", ondelete="CASCADE"), primary_key=True),
        sa.Column("tag", sa.String(40), primary_key=True),
    )
    op.create_table(
        "pictures",
        sa.Column("key", sa.String(64), primary_key=True),
        sa.Column("blob", sa.String(64), nullable=False),
    )


def _designs() -> None:
    op.create_table(
        "designs",
        sa.Column("id", sa.String(32), primary_key=True),
        sa.Column("revision", sa.Integer, nullable=False),
        sa.Column("document", sa.String(64), sa.ForeignKey("documents.sha"), nullable=False),
        sa.Column("changed", sa.String(32), nullable=False),
        sa.Column("away_at", sa.String(32)),
        sa.Column("name", sa.Text, nullable=False),
        sa.Column("sought", sa.Text, nullable=False),
        sa.Column("division", sa.Text, nullable=False),
        sa.Column("around_mm", sa.Float),
        sa.Column("wrong_where", sa.Text),
        sa.Column("wrong_what", sa.Text),
        sa.Column("split_of", sa.String(32)),
        sa.Column("split_base", sa.Integer),
        sa.Column("split_tab", sa.String(64)),
    )
    op.create_index("designs_changed", "designs", ["away_at", "changed"])
