"""Addresses of the pin survey: her readings, what they tell, which distances to measure, tables and sheets."""

from collections.abc import Callable
from typing import Annotated, Any

from fastapi import File, Path, Query, Response, UploadFile

from polestitch.document.tabletext import MOST_BYTES
from polestitch.errors import DesignError
from polestitch.store import designs, surveys
from polestitch.store.designs import document_text
from polestitch.studio import messages_survey as say
from polestitch.studio.addresses.reading import documented, whole
from polestitch.studio.studio import Here
from polestitch.studio.survey_tables import form_table, readings_table, table_readings
from polestitch.studio.surveying import asked_answer, form_sheet, survey_answer, survey_sheet

Id = Annotated[str, Path(pattern=r"^[0-9a-f]{32}$")]
OnPaper = Annotated[say.Paper, Query()]


def survey_readings(here: Here, id: Id) -> say.SurveyKept:
    """Her readings of a design's pins."""
    kept = surveys.kept_survey(here.store, id)
    return say.SurveyKept(number=kept.number, survey=kept.survey)


def keep_readings(here: Here, id: Id, change: say.KeepSurvey) -> say.SurveyKept:
    """Keep her readings; on top of an older list they are refused, and she still has hers."""
    done, kept = surveys.keep_survey(here.store, id, change.base, change.survey)
    if not done:
        raise DesignError(
            "base", "another window has changed these readings; look at them again, then write yours once more"
        )
    return say.SurveyKept(number=kept.number, survey=kept.survey)


async def survey_pins(here: Here, asked: say.SurveyQuestion) -> say.Surveyed:
    """What her readings say of the pins."""
    text, kept = document_text(asked.document), asked.survey.model_dump(mode="json")
    told = await here.questions.answer(
        f"survey {asked.tab}",
        asked.question,
        lambda begun: here.bench.answer(survey_answer, text, kept, begun=begun),
    )
    return say.Surveyed.model_validate(told)


async def survey_distances(here: Here, asked: say.WhichDistances) -> say.AskedDistances:
    """Which distances to measure, in order."""
    told = await here.painters.answer(asked_answer, document_text(asked.document))
    return say.AskedDistances(distances=tuple(say.AskedDistance(**one) for one in told))


async def read_survey_table(file: Annotated[UploadFile, File()]) -> say.ReadTable:
    """Readings of a table, looked at and not kept."""
    data = await whole(file, MOST_BYTES)
    return say.ReadTable(readings=table_readings(data, (file.filename or "table")[:80]))


def survey_table(here: Here, id: Id) -> Response:
    """Her readings as a table."""
    card, _ = designs.document(here.store, id)
    kept = surveys.kept_survey(here.store, id)
    return _file(readings_table(kept.survey).encode(), f"{_plain(card.name)}-pins.csv", "text/csv")


async def survey_form_table(here: Here, id: Id) -> Response:
    """The distances to measure as a table to fill in."""
    card, raw = await documented(designs.document, here.store, id)
    told = await here.painters.answer(asked_answer, document_text(raw))
    return _file(form_table(told).encode(), f"{_plain(card.name)}-pins-to-measure.csv", "text/csv")


async def survey_form_sheet(here: Here, id: Id, paper: OnPaper = "a4") -> Response:
    """A sheet to fill in beside the ball."""
    card, raw = await documented(designs.document, here.store, id)
    data = await here.makers.answer(form_sheet, document_text(raw), paper)
    return _file(data, f"{_plain(card.name)}-pins-to-measure.pdf", "application/pdf")


async def survey_result_sheet(here: Here, id: Id, paper: OnPaper = "a4") -> Response:
    """What her readings tell, on paper."""
    card, raw = await documented(designs.document, here.store, id)
    kept = await documented(surveys.kept_survey, here.store, id)
    text = document_text(raw)
    data = await here.makers.answer(survey_sheet, text, kept.survey.model_dump(mode="json"), paper)
    return _file(data, f"{_plain(card.name)}-survey.pdf", "application/pdf")


def _plain(name: str) -> str:
    """A name that any disk takes."""
    kept = "".join(letter if letter.isascii() and letter.isalnum() else "-" for letter in name.lower())
    return "-".join(filter(None, kept.split("-"))) or "ball"


def _file(data: bytes, name: str, media: str) -> Response:
    return Response(data, media_type=media, headers={"content-disposition": f'attachment; filename="{name}"'})


ROUTES: tuple[tuple[str, str, Callable[..., Any], int], ...] = (
    ("GET", "/designs/{id}/survey", survey_readings, 200),
    ("PUT", "/designs/{id}/survey", keep_readings, 200),
    ("GET", "/designs/{id}/survey.csv", survey_table, 200),
    ("GET", "/designs/{id}/survey.pdf", survey_result_sheet, 200),
    ("GET", "/designs/{id}/survey-form.csv", survey_form_table, 200),
    ("GET", "/designs/{id}/survey-form.pdf", survey_form_sheet, 200),
    ("POST", "/survey", survey_pins, 200),
    ("POST", "/survey/distances", survey_distances, 200),
    ("POST", "/survey/csv", read_survey_table, 200),
)
_CSV: dict[str, Any] = {"content": {"text/csv": {}}}
_PDF: dict[str, Any] = {"content": {"application/pdf": {}}}
ANSWERS: dict[Callable[..., Any], dict[str, Any]] = {
    survey_table: _CSV,
    survey_form_table: _CSV,
    survey_form_sheet: _PDF,
    survey_result_sheet: _PDF,
}
