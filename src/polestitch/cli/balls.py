"""Commands that need only a division and a circumference: marking numbers and the paper strip."""

from typing import Annotated, Any

import typer

from polestitch.cli.files import around_mm, refuse_unwritable, said_of, write_whole
from polestitch.cli.options import Around, AsJson, Division, Output, Paper
from polestitch.cli.printing import print_json, show
from polestitch.errors import DesignError

LARGEST_OFF_MM = 10.0
Advise = Annotated[bool, typer.Option("--advice", help="Compare orders of placing pins and laying lines.")]
OffBy = Annotated[
    str, typer.Option("--off-by", metavar="LENGTH", help="With --advice: how far off a measured pin usually lands.")
]


def marking(
    division: Division, around: Around, as_json: AsJson = False, advice: Advise = False, off_by: OffBy = "0.5mm"
) -> None:
    """Tell how to mark a ball.

    Where each pin goes, measured from which pins, and the way of the marking thread.
    With --advice instead: every sensible order of work, the one that keeps pins nearest to their places first.
    """
    from polestitch.marking.summary import advice_json, marking_json

    mm = around_mm(around)
    with said_of("DIVISION"):
        payload = marking_json(division, mm)
    if advice:
        _advice(advice_json(division, _off_by_mm(off_by)), as_json)
        return
    if as_json:
        print_json(payload)
        return
    from polestitch.cli.tables import marking_tables

    show(marking_tables(payload))


def _off_by_mm(text: str) -> float:
    """Millimetres of what was given as ``--off-by``; ``DesignError`` where it is no error a pin can have."""
    from polestitch.document.lengths import Length

    try:
        mm = Length(text).mm
    except ValueError as error:
        raise DesignError("--off-by", str(error)) from None
    if mm is None or not 0 < mm <= LARGEST_OFF_MM:
        raise DesignError("--off-by", f"{text} is no error of a pin; write 0.1 mm to {LARGEST_OFF_MM:g} mm")
    return mm


def _advice(payload: dict[str, Any], as_json: bool) -> None:
    if as_json:
        print_json(payload)
        return
    from polestitch.cli.advising import advice_tables

    show(advice_tables(payload))


def strip(division: Division, around: Around, output: Output, paper: Paper = "a4") -> None:
    """Write the paper strip at true size (PDF).

    Every pin distance of the division, ticked and labelled, and check lines to see that the printer kept the size.
    """
    from polestitch.sheets.sheet import paper_named
    from polestitch.sheets.strip import strip as strip_pdf

    mm = around_mm(around)
    paper_named(paper)
    refuse_unwritable(output)
    with said_of("DIVISION"):
        content = strip_pdf(division, mm, paper)
    write_whole(output, content)
