"""What she pays and asks, as she last said it; and the same inside an archive.

In: an open store or a session.  Out: a plain object, or the bytes of ``costs.json``.  What its words mean is known to
the studio.
"""

import json
from typing import Annotated, Any

from pydantic import AwareDatetime, BaseModel, ConfigDict, Field
from sqlalchemy.orm import Session

from polestitch.document.jsontext import json_object
from polestitch.errors import DesignError
from polestitch.store.moments import stamp_of
from polestitch.store.store import Store
from polestitch.store.tables import CostsRow

HERS = "hers"
COSTS = "costs.json"
MOST_TEXT = 100_000


class ArchivedCosts(BaseModel):
    """The file of the archive."""

    model_config = ConfigDict(frozen=True, extra="forbid", allow_inf_nan=False)

    changed: AwareDatetime
    said: Annotated[str, Field(max_length=MOST_TEXT)]


def kept_costs(store: Store) -> dict[str, Any] | None:
    """What she said last, or nothing."""
    with store.reading() as session:
        row = session.get(CostsRow, HERS)
        return None if row is None else json_object(row.said, "costs")


def keep_costs(store: Store, said: dict[str, Any]) -> None:
    """Keep it in place of what was there; ``DesignError`` for too much."""
    text = json.dumps(said, ensure_ascii=False)
    if len(text) > MOST_TEXT:
        raise DesignError("costs", "are longer than can be kept; take out some items")
    with store.writing() as session:
        row = session.get(CostsRow, HERS) or CostsRow(id=HERS)
        row.said, row.changed = text, store.stamp()
        session.add(row)


def costs_file(session: Session) -> dict[str, bytes]:
    """The file by its name, or none."""
    row = session.get(CostsRow, HERS)
    if row is None:
        return {}
    told = {"changed": row.changed, "said": row.said}
    return {COSTS: json.dumps(told, ensure_ascii=False, separators=(",", ":")).encode()}


def checked_costs(files: dict[str, bytes]) -> ArchivedCosts | None:
    """What the file holds; ``ValidationError`` or ``DesignError`` where it is not right."""
    if COSTS not in files:
        return None
    found = ArchivedCosts.model_validate_json(files[COSTS])
    json_object(found.said, "costs")
    return found


def take_costs(session: Session, found: ArchivedCosts | None) -> None:
    """Take it where she said nothing here yet; what she said here stays."""
    if found is not None and session.get(CostsRow, HERS) is None:
        session.add(CostsRow(id=HERS, said=found.said, changed=stamp_of(found.changed)))
        session.flush()
