"""The pin survey on the command line."""

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

from polestitch.cli.files import design_of, pdf_named, refuse_existing, refuse_unwritable, write_whole
from polestitch.cli.options import AsJson, DesignFile, MeasuredAround, Output, Paper
from polestitch.cli.printing import print_json, show
from polestitch.errors import DesignError

if TYPE_CHECKING:
    from polestitch.document.design import Design
    from polestitch.marking.marking import Marking
    from polestitch.survey import Care, Measured, Survey

Readings = Annotated[Path, typer.Argument(help="What you measured from pin to pin: a CSV table, see survey-form.")]
OffBy = Annotated[str, typer.Option("--off-by", metavar="LENGTH", help="How far off one reading usually is.")]
READINGS = "Readings in mm; off: yours less what all make it; test: off, in its own usual errors"
CAUTION = (
    "Pins are sharp and easily lost in soft work: count them before and after, and keep them from children and animals."
)
MOVE_HEADS = ("pin", ">off", "how")
READING_HEADS = (">line", "from", "to", ">read", ">off", ">test", "")


def survey(
    design: DesignFile,
    readings: Readings,
    around: MeasuredAround = None,
    off_by: OffBy = "0.5mm",
    as_json: AsJson = False,
) -> None:
    """Check pins by measured distances: which pin to move, how far and where."""
    from polestitch.survey import Care
    from polestitch.survey.told import survey_json

    told = _surveyed(design, readings, around, Care(_mm(off_by, "--off-by")))
    payload = {**survey_json(told.found), "motifs": told.motifs}
    if as_json:
        print_json(payload)
        return
    _show(told.name, payload)


def survey_sheet(
    design: DesignFile, readings: Readings, output: Output, around: MeasuredAround = None, paper: Paper = "a4"
) -> None:
    """Write what measured distances tell as a sheet: an arrow at each pin to move, and a list to tick off (PDF)."""
    from polestitch.sheets.survey_page import Told, survey_pdf
    from polestitch.survey import Care

    refuse_unwritable(_pdf(output, paper))
    told = _surveyed(design, readings, around, Care())
    sentences = tuple(one["sentence"] for one in told.motifs)
    write_whole(output, survey_pdf(Told(told.name, told.marking, told.found, sentences), paper))


@dataclass(frozen=True, eq=False)
class _Surveyed:
    name: str
    marking: "Marking"
    found: "Survey"
    motifs: list[dict[str, Any]]


def _surveyed(design: Path, readings: Path, around: str | None, care: "Care") -> _Surveyed:
    from polestitch.fitting.surveyed import motif_gaps
    from polestitch.survey import readings_of
    from polestitch.survey import survey as surveyed
    from polestitch.survey.told import motifs_json

    made, marking, ball = _on_her_ball(design, around)
    found = surveyed(marking, ball, readings_of(readings.read_bytes(), str(readings)), care)
    gaps = motif_gaps(made, found)
    motifs = motifs_json((gap.layer, (gap.first, gap.second), gap.mm, gap.wanted_mm) for gap in gaps)
    return _Surveyed(made.name, marking, found, motifs)


def survey_form(design: DesignFile, output: Output, around: MeasuredAround = None, paper: Paper = "a4") -> None:
    """Write which pin distances to measure, to fill in for survey.

    A name that ends in .csv gives a table, one in .pdf a sheet with a map of the pins to fill in by hand.
    """
    from polestitch.survey.form import asked, form

    kind = output.suffix.lower()
    if kind not in (".csv", ".pdf"):
        raise DesignError("-o", f'"{output.name}" is no table and no sheet; end its name in .csv or .pdf')
    if kind == ".csv":
        refuse_existing(output)
    else:
        refuse_unwritable(_pdf(output, paper))
    made, marking, ball = _on_her_ball(design, around)
    if kind == ".csv":
        write_whole(output, form(marking, ball))
        return
    from polestitch.sheets.survey_page import form_pdf

    write_whole(output, form_pdf(made.name, marking, ball, asked(marking, ball), paper))


def _pdf(output: Path, paper: str) -> Path:
    """``output``, whose name and paper are refused before the work where they cannot be."""
    from polestitch.sheets.sheet import paper_named

    paper_named(paper)
    return pdf_named(output)


def _on_her_ball(path: Path, around: str | None) -> "tuple[Design, Marking, Measured]":
    from polestitch.ball.measured import ball_of, roundness
    from polestitch.marking.divisions import marked
    from polestitch.survey import Measured

    made = design_of(path, around)
    return made, marked(made.marking.division), Measured(ball_of(made.ball), roundness(made.ball))


def _mm(text: str, option: str) -> float:
    from polestitch.survey.readings import millimetres

    mm = millimetres(text, option, least=0.01)
    if mm > 20:
        raise DesignError(option, f"{text} is more than a pin can be off; write 0.1 mm to 20 mm")
    return mm


def _show(name: str, told: Mapping[str, Any]) -> None:
    from rich.text import Text

    from polestitch.cli.tables import heading, table

    now = told["now"]
    facts = (
        f"{told['ball']['around_mm']:.0f} mm round",
        f"{now['standing']} of {now['pins']} pins stand",
        f"worst {now['worst_mm']:.1f} mm off, mean {now['mean_mm']:.1f} mm",
    )
    moves = [(move["point"], f"{move['mm']:.1f} mm", move["sentence"]) for move in told["moves"]]
    readings = [
        (
            str(one["line"]),
            one["first"],
            one["second"],
            f"{one['mm']:g} mm",
            _signed(one["off_mm"]),
            _signed(one["test"]),
            "! misread" if one["misread"] else "",
        )
        for one in told["readings"]
    ]
    motifs = (one["sentence"] for one in told["motifs"])
    words = (Text(f"{line}\n") for line in (*told["said"], *motifs))
    to_move = [table("Moves, the largest first", MOVE_HEADS, moves)] if moves else []
    judged = table(READINGS, READING_HEADS, readings)
    show([heading(name, *facts), *words, *to_move, judged, Text(f"{CAUTION}\n")])


def _signed(number: float) -> str:
    """One decimal with its sign; what rounds to nothing has none."""
    return f"{number:+.1f}" if round(number, 1) else "0.0"
