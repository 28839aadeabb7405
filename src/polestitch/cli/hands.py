"""Her hand on the command line: the sampler's sheet, and what its readings say."""

from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

from polestitch.cli.files import design_of, pdf_named, refuse_existing, refuse_unwritable, write_whole
from polestitch.cli.options import AsJson, Output, Paper
from polestitch.cli.printing import print_json, show
from polestitch.errors import DesignError

if TYPE_CHECKING:
    from polestitch.document.design import Measures

Readings = Annotated[Path, typer.Argument(help="What you read on the sampler: a CSV table, see sampler.")]
ForDesign = Annotated[
    Path | None, typer.Option("--for", metavar="DESIGN", help="A design of yours: what it says of your hand is kept.")
]
Into = Annotated[
    Path | None, typer.Option("-o", "--output", metavar="FILE", help="Write that design with your measures in it.")
]


def sampler(output: Output, paper: Paper = "a4") -> None:
    """Write the sampler: five minutes of stitching that tell how your hand lays thread and steps at points.

    A name that ends in .pdf gives the sheet with what to measure, one in .csv the table to fill in.
    """
    from polestitch.sheets.sampler_page import sampler_pdf, sampler_table
    from polestitch.sheets.sheet import paper_named

    paper_named(paper)
    if output.suffix.lower() == ".csv":
        refuse_existing(output)
        write_whole(output, sampler_table())
        return
    refuse_unwritable(pdf_named(output))
    write_whole(output, sampler_pdf(paper))


def hand(readings: Readings, for_design: ForDesign = None, output: Into = None, as_json: AsJson = False) -> None:
    """Say what your hand is, from a sampler's readings, and put it into a design."""
    from polestitch.document.design import Maker
    from polestitch.hand import hand_json, hand_of, sampled
    from polestitch.standing import standing

    if output is not None and for_design is None:
        raise DesignError("-o", "there is no design to write your measures into; name it with --for")
    if output is not None:
        refuse_existing(output)
    design = None if for_design is None else design_of(for_design)
    # Without its measures: they were made of the same readings, which would count twice.
    maker = Maker() if design is None else design.maker.model_copy(update={"measures": None})
    ball = None if design is None else standing(design)
    found = sampled(readings.read_bytes(), str(readings), hand_of(maker), ball)
    if output is not None and for_design is not None:
        write_whole(output, _with_measures(for_design, found.measures))
    payload = hand_json(found)
    if as_json:
        print_json(payload)
        return
    _show(payload)


def _with_measures(path: Path, new: "Measures") -> str:
    """The design with her new measures beside those it has."""
    from polestitch.document.codec import written
    from polestitch.document.design import Measures

    design = design_of(path)
    old = design.maker.measures or Measures()
    kept = {name: getattr(new, name) or getattr(old, name) for name in ("step", "bite", "dip")}
    measures = Measures(pitch={**old.pitch, **new.pitch}, **kept)
    return written(design.model_copy(update={"maker": design.maker.model_copy(update={"measures": measures})}))


def _show(told: dict[str, Any]) -> None:
    from rich.text import Text

    from polestitch.cli.tables import heading

    count = told["readings"]
    words = (Text(f"{sentence}\n") for sentence in told["said"])
    put = Text("Four of five pieces of yours fall between. Give --for a design and -o to put it there.\n", "dim")
    show([heading("Your hand", f"{count} reading{'s' if count != 1 else ''}"), *words, put])
