"""What the database holds of pin surveys: one row a design.

In: nothing.  Out: a SQLAlchemy table.
"""

from sqlalchemy import ForeignKey, Integer, String, Text
from sqlalchemy.orm import Mapped, mapped_column

from polestitch.store.tables import Table


class SurveyRow(Table):
    """Readings of a design's pins; ``told`` is plain data, ``number`` counts its changes."""

    __tablename__ = "surveys"

    design: Mapped[str] = mapped_column(ForeignKey("designs.id", ondelete="CASCADE"), primary_key=True)
    number: Mapped[int] = mapped_column(Integer)
    changed: Mapped[str] = mapped_column(String(32))
    told: Mapped[str] = mapped_column(Text)
