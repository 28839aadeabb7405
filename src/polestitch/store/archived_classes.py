"""Classes inside an archive: one file for all of them.

In: a session.  Out: a file's bytes by name, and the way back.
"""

import json
from typing import Annotated, Any

from pydantic import AwareDatetime, BaseModel, ConfigDict, Field, TypeAdapter
from sqlalchemy import select
from sqlalchemy.orm import Session

from polestitch.store.classes import MOST_BYTES, design_of, title_of
from polestitch.store.moments import stamp_of
from polestitch.store.tables import ClassRow

CLASSES = "classes.json"


class _Class(BaseModel):
    model_config = ConfigDict(frozen=True, extra="forbid", allow_inf_nan=False)

    id: Annotated[str, Field(pattern=r"^[0-9a-f]{32}$")]
    number: Annotated[int, Field(ge=1, le=2**31)]
    changed: AwareDatetime
    away_at: AwareDatetime | None = None
    document: dict[str, Any]


CheckedClasses = tuple[_Class, ...]
LISTED = TypeAdapter(CheckedClasses)


def class_files(session: Session) -> dict[str, bytes]:
    """The file of all classes; none where there are none."""
    rows = session.scalars(select(ClassRow).order_by(ClassRow.id)).all()
    listed = [
        {
            "id": row.id,
            "number": row.number,
            "changed": row.changed,
            "away_at": row.away_at,
            "document": json.loads(row.document),
        }
        for row in rows
    ]
    return {CLASSES: json.dumps(listed, ensure_ascii=False, separators=(",", ":")).encode()} if listed else {}


def checked_classes(files: dict[str, bytes]) -> CheckedClasses:
    """What the file holds; ``ValidationError`` or ``ValueError`` where any of it is not right."""
    found = LISTED.validate_json(files.get(CLASSES, b"[]"))
    if len({each.id for each in found}) < len(found):
        raise ValueError("a class stands in it twice")
    if any(len(json.dumps(each.document)) > 6 * MOST_BYTES for each in found):
        raise ValueError("a class is larger than any")
    return found


def take_classes(session: Session, found: CheckedClasses) -> None:
    """Add those that are not here yet."""
    for each in found:
        if session.get(ClassRow, each.id) is None:
            away = None if each.away_at is None else stamp_of(each.away_at)
            told = {"id": each.id, "number": each.number, "changed": stamp_of(each.changed), "away_at": away}
            title, text = title_of(each.document), json.dumps(each.document, ensure_ascii=False)
            words = {"title": title, "sought": title.casefold(), "document": text, "design": design_of(each.document)}
            session.add(ClassRow(**told, **words))
    session.flush()
