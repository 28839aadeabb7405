"""Where the first and the last row of every layer stand on one ball.

In: a ``WorkUp``.  Out: sentences.
"""

from collections.abc import Iterator

from polestitch.document.said import Units, listed, set_length
from polestitch.steps import RowTable, row_tables
from polestitch.steps.table import RowLine
from polestitch.workup import WorkUp


def row_checks(work: WorkUp) -> Iterator[str]:
    """A sentence for each layer and kind of place, with millimetres to hold a ruler to."""
    design = work.build.design
    for one in row_tables(work.build):
        if one.rows and one.rows[0].distances:
            yield _said(design.layers[one.layer].name, one, design.maker.units)


def _said(name: str, one: RowTable, units: Units) -> str:
    first, last = one.rows[0], one.rows[-1]
    then = f"; row {last.number}: {_distances(last, units)}" if last.number != first.number else ""
    return f"{name[:1].upper()}{name[1:]}, row {first.number}: {_distances(first, units)}{then}."


def _distances(row: RowLine, units: Units) -> str:
    return listed([f"{each.kind} {set_length(each.mm, units)} from {each.pin}" for each in row.distances])
