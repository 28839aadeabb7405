"""Commands that need only a division and a circumference: marking numbers and the paper strip."""

from polestitch.cli.files import around_mm, refuse_unwritable, said_of, write_whole
from polestitch.cli.options import Around, AsJson, Division, Output, Paper
from polestitch.cli.printing import print_json, show


def marking(division: Division, around: Around, as_json: AsJson = False) -> None:
    """Tell how to mark a ball.

    Where each pin goes, measured from which pins, and the way of the marking thread.
    """
    from polestitch.marking.summary import marking_json

    mm = around_mm(around)
    with said_of("DIVISION"):
        payload = marking_json(division, mm)
    if as_json:
        print_json(payload)
        return
    from polestitch.cli.tables import marking_tables

    show(marking_tables(payload))


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
