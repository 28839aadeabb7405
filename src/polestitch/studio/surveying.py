"""What workers answer of a pin survey.  Runs in a worker.

In: a document's text and her readings.  Out: plain data and PDF.
"""

import json
from collections.abc import Sequence
from typing import Any

from polestitch.ball.measured import ball_of, roundness
from polestitch.document.codec import read
from polestitch.document.design import Design
from polestitch.document.jsontext import json_object
from polestitch.errors import DesignError
from polestitch.fitting.surveyed import motif_gaps
from polestitch.marking.divisions import marked
from polestitch.marking.marking import Marking
from polestitch.sheets.survey_page import Told, form_pdf, survey_pdf
from polestitch.store.surveys import KeptReading, KeptSurvey
from polestitch.survey import Care, Measured, Reading, survey
from polestitch.survey.field import parted
from polestitch.survey.form import asked
from polestitch.survey.readings import millimetres
from polestitch.survey.survey import Survey
from polestitch.survey.told import motifs_json, survey_json

Refused = list[dict[str, Any]]


def survey_answer(text: str, kept: dict[str, Any]) -> dict[str, Any]:
    """Everything the readings tell; those that cannot be are told apart."""
    design, marking, measured = _of(text)
    found, refused = surveyed(marking, measured, KeptSurvey.model_validate(kept))
    told = survey_json(found)
    for pin, at, target in zip(told["pins"], *(places.round(7).tolist() for places in found.laid), strict=True):
        pin |= {"at": at, "target": target}
    return {**told, "motifs": motifs_told(design, found), "refused": refused}


def asked_answer(text: str) -> list[dict[str, Any]]:
    """Which distances to measure."""
    _, marking, measured = _of(text)
    return [{"first": one.first, "second": one.second, "mm": round(one.mm, 2)} for one in asked(marking, measured)]


def form_sheet(text: str, paper: str) -> bytes:
    """The sheet to fill in, as PDF."""
    _, marking, measured = _of(text)
    return form_pdf(_name(text), marking, measured, asked(marking, measured), paper)


def survey_sheet(text: str, kept: dict[str, Any], paper: str) -> bytes:
    """The finished survey, as PDF."""
    design, marking, measured = _of(text)
    found, refused = surveyed(marking, measured, KeptSurvey.model_validate(kept))
    motifs = tuple(one["sentence"] for one in motifs_told(design, found))
    wrong = tuple(f"Line {one['line']} is left out: {one['what']}." for one in refused)
    return survey_pdf(Told(_name(text), marking, found, motifs, wrong), paper)


def _name(text: str) -> str:
    return str(json_object(text, "design").get("name", ""))


def surveyed(marking: Marking, measured: Measured, kept: KeptSurvey) -> tuple[Survey, Refused]:
    """The survey of what can be, and what cannot with its line."""
    readings, wrong = _readings(kept.readings)
    good, bad = parted(marking, measured, readings, kept.off_by_mm)
    refused = [*wrong, *({"line": one.line, "what": error.what} for one, error in bad)]
    return survey(marking, measured, good, Care(kept.off_by_mm)), sorted(refused, key=lambda one: int(one["line"]))


def motifs_told(design: Design | None, found: Survey) -> list[dict[str, Any]]:
    """Each layer's tightest pair of motifs as the pins stand."""
    gaps = () if design is None else motif_gaps(design, found)
    return motifs_json((gap.layer, (gap.first, gap.second), gap.mm, gap.wanted_mm) for gap in gaps)


def _readings(kept: Sequence[KeptReading]) -> tuple[list[Reading], Refused]:
    found, wrong = list[Reading](), Refused()
    for line, one in enumerate(kept, 1):
        if one.aside:
            continue
        try:
            mm = millimetres(one.length, f"line {line}")
            found.append(Reading(one.first, one.second, mm, one.via, None, line))
        except DesignError as error:
            wrong.append({"line": line, "what": error.what})
    return found, wrong


def _of(text: str) -> tuple[Design | None, Marking, Measured]:
    """The design where all of it can be read, its marking and her ball."""
    try:
        design = read(text)
        bare = design
    except DesignError:
        design, bare = None, read(written_bare(text))
    return design, marked(bare.marking.division), Measured(ball_of(bare.ball), roundness(bare.ball))


def written_bare(text: str) -> str:
    """The document without its layers: pins can be surveyed before anything can be stitched."""
    return json.dumps({**json_object(text, "design"), "layers": []})
