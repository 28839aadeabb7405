"""The winding log inside an archive: one file.

In: a session.  Out: the file's bytes, and the way back.
"""

import json
from typing import Annotated

from pydantic import AwareDatetime, BaseModel, ConfigDict, Field, TypeAdapter
from sqlalchemy import select
from sqlalchemy.orm import Session

from polestitch.store.moments import stamp_of
from polestitch.store.tables import WoundRow
from polestitch.store.winding_log import COLUMNS

WINDING = "winding.json"


class ArchivedWound(BaseModel):
    """One entry of the log."""

    model_config = ConfigDict(frozen=True, extra="forbid", allow_inf_nan=False)

    id: Annotated[str, Field(pattern=r"^[0-9a-f]{32}$")]
    material: Annotated[str, Field(min_length=1, max_length=60)]
    before_mm: Annotated[float, Field(ge=0, le=3000)]
    after_mm: Annotated[float, Field(gt=0, le=3000)]
    grams: Annotated[float, Field(gt=0, le=100_000)]
    note: Annotated[str, Field(max_length=4000)] | None = None
    away_at: AwareDatetime | None = None
    changed: AwareDatetime


WOUND = TypeAdapter(tuple[ArchivedWound, ...])


def wound_files(session: Session) -> dict[str, bytes]:
    """The file of every entry, put-away ones too, by name; none where there are none."""
    names = ("id", *COLUMNS, "away_at", "changed")
    rows = session.scalars(select(WoundRow).order_by(WoundRow.id))
    listed = [{name: getattr(row, name) for name in names} for row in rows]
    return {WINDING: json.dumps(listed, ensure_ascii=False, separators=(",", ":")).encode()} if listed else {}


def checked_wound(files: dict[str, bytes]) -> tuple[ArchivedWound, ...]:
    """What the file holds; ``ValidationError`` where any of it is not right."""
    return WOUND.validate_json(files[WINDING]) if WINDING in files else ()


def take_wound(session: Session, found: tuple[ArchivedWound, ...]) -> None:
    """Add what is not here yet."""
    for entry in found:
        if session.get(WoundRow, entry.id) is None:
            away = None if entry.away_at is None else stamp_of(entry.away_at)
            words = {name: getattr(entry, name) for name in ("id", *COLUMNS)}
            session.add(WoundRow(**words, changed=stamp_of(entry.changed), away_at=away))
    session.flush()
