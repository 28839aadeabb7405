"""The pin survey on the command line."""

from collections.abc import Mapping
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

from polestitch.cli.files import design_of, refuse_unwritable, write_whole
from polestitch.cli.options import AsJson, DesignFile, MeasuredAround, Output
from polestitch.cli.printing import print_json, show
from polestitch.errors import DesignError

if TYPE_CHECKING:
    from polestitch.document.design import Design
    from polestitch.marking.marking import Marking
    from polestitch.survey import Measured

Readings = Annotated[Path, typer.Argument(help="What you measured from pin to pin: a CSV table, see survey-form.")]
OffBy = Annotated[str, typer.Option("--off-by", metavar="LENGTH", help="How far off one reading usually is.")]
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
    from polestitch.survey import Care, readings_of
    from polestitch.survey import survey as surveyed
    from polestitch.survey.told import survey_json

    made, marking, ball = _on_her_ball(design, around)
    given = readings_of(readings.read_bytes(), str(readings))
    payload = survey_json(surveyed(marking, ball, given, Care(_mm(off_by, "--off-by"))))
    if as_json:
        print_json(payload)
        return
    _show(made.name, payload)


def survey_form(design: DesignFile, output: Output, around: MeasuredAround = None) -> None:
    """Write a table of pin distances to measure, to fill in for survey (CSV)."""
    from polestitch.survey.form import form

    refuse_unwritable(output)
    _, marking, ball = _on_her_ball(design, around)
    write_whole(output, form(marking, ball))


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
            f"{one['off_mm']:+.1f}",
            f"{one['test']:+.1f}",
            "! misread" if one["misread"] else "",
        )
        for one in told["readings"]
    ]
    words = (Text(f"{line}\n") for line in told["said"])
    to_move = [table("Moves, the largest first", MOVE_HEADS, moves)] if moves else []
    judged = table("Readings: off is read less adjusted, in mm", READING_HEADS, readings)
    show([heading(name, *facts), *words, *to_move, judged])
