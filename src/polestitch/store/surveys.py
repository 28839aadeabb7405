"""Pin surveys: what she read from pin to pin, in her own words, one list a design.

In: an open store.  Out: ``Kept`` lists, each with the number of its last change.  A change is taken on top of the
newest list alone, so that no window writes over what another wrote.
"""

import json
from dataclasses import dataclass
from typing import Annotated, Any

from pydantic import BaseModel, ConfigDict, Field

from polestitch.store.designs import design_row
from polestitch.store.store import Store
from polestitch.store.survey_tables import SurveyRow

MOST_READINGS = 5_000
Words = Annotated[str, Field(max_length=80)]


class _Part(BaseModel):
    model_config = ConfigDict(frozen=True, extra="forbid", allow_inf_nan=False)


class KeptReading(_Part):
    """One distance as she wrote it; ``aside`` where it is from before a pin moved and counts no more."""

    first: Words
    second: Words
    length: Words
    via: Words = ""
    aside: bool = False


class KeptSurvey(_Part):
    """Her readings in the order she took them, and the moves she has made, by their sentences."""

    readings: Annotated[tuple[KeptReading, ...], Field(max_length=MOST_READINGS)] = ()
    made: Annotated[tuple[Annotated[str, Field(max_length=400)], ...], Field(max_length=1000)] = ()
    off_by_mm: Annotated[float, Field(ge=0.05, le=5)] = 0.5


@dataclass(frozen=True)
class Kept:
    """A list, and how often it has changed; 0 where nothing is kept yet."""

    number: int
    survey: KeptSurvey


def kept_survey(store: Store, design: str) -> Kept:
    """Her readings of the pins of ``design``; ``MissingError`` where there is no such design."""
    with store.reading() as session:
        design_row(session, design)
        return _kept(session.get(SurveyRow, design))


def keep_survey(store: Store, design: str, base: int, survey: KeptSurvey) -> tuple[bool, Kept]:
    """Whether ``survey`` was kept on top of change ``base``, and what is kept now."""
    with store.writing() as session:
        design_row(session, design)
        row = session.get(SurveyRow, design)
        now = _kept(row)
        if now.survey == survey:
            return True, now
        if now.number != base:
            return False, now
        if row is None:
            row = SurveyRow(design=design)
            session.add(row)
        row.number, row.changed, row.told = now.number + 1, store.stamp(), told_of(survey)
        return True, Kept(row.number, survey)


def told_of(survey: KeptSurvey) -> str:
    """A list as it is written down."""
    plain: dict[str, Any] = survey.model_dump(mode="json")
    return json.dumps(plain, ensure_ascii=False)


def _kept(row: SurveyRow | None) -> Kept:
    return Kept(0, KeptSurvey()) if row is None else Kept(row.number, KeptSurvey.model_validate_json(row.told))
