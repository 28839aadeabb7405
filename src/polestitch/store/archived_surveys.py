"""Pin surveys inside an archive: one file, ``surveys.json``.

In: a session.  Out: the file's bytes, and the way back.
"""

import json
from typing import Annotated

from pydantic import AwareDatetime, BaseModel, ConfigDict, Field, TypeAdapter
from sqlalchemy import select
from sqlalchemy.orm import Session

from polestitch.store.moments import stamp_of
from polestitch.store.survey_tables import SurveyRow
from polestitch.store.surveys import KeptSurvey, told_of
from polestitch.store.tables import DesignRow

SURVEYS = "surveys.json"


class _Survey(BaseModel):
    model_config = ConfigDict(frozen=True, extra="forbid", allow_inf_nan=False)

    design: Annotated[str, Field(pattern=r"^[0-9a-f]{32}$")]
    number: Annotated[int, Field(ge=1, le=2**53)]
    changed: AwareDatetime
    told: KeptSurvey


Archived = tuple[_Survey, ...]
LIST = TypeAdapter(Archived)


def survey_files(session: Session) -> dict[str, bytes]:
    """The file of all surveys, by name; none where there are none."""
    rows = session.scalars(select(SurveyRow).order_by(SurveyRow.design)).all()
    listed = [
        {"design": row.design, "number": row.number, "changed": row.changed, "told": json.loads(row.told)}
        for row in rows
    ]
    return {SURVEYS: json.dumps(listed, ensure_ascii=False, separators=(",", ":")).encode()} if listed else {}


def checked_surveys(files: dict[str, bytes]) -> Archived:
    """What the file holds; ``ValidationError`` where any of it is not right."""
    return LIST.validate_json(files[SURVEYS]) if SURVEYS in files else ()


def take_surveys(session: Session, found: Archived) -> None:
    """Add the surveys of designs that are here and have none yet, or an older state of the same."""
    for one in found:
        here = session.get(SurveyRow, one.design)
        if session.get(DesignRow, one.design) is None or (here is not None and here.number >= one.number):
            continue
        row = here or SurveyRow(design=one.design)
        row.number, row.changed, row.told = one.number, stamp_of(one.changed), told_of(one.told)
        session.add(row)
    session.flush()
