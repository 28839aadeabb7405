"""Marking advice as a table, made from the same plain data that ``--json`` prints.

In: a dict of ``marking.summary``.  Out: rich renderables.
"""

from collections.abc import Mapping
from typing import Any

from rich.text import Text

from polestitch.cli.tables import Parts, heading, table

HEADS = (">#", "place the pins", "lay the lines", ">measures", ">worst pin", ">last pin", ">worst crossing")


def advice_tables(advice: Mapping[str, Any]) -> Parts:
    """Orders of work, the steadiest first, and what their names mean."""
    yield heading(f"How to mark {advice['division']}", f"one measure is usually {advice['off_by_mm']:g} mm off")
    yield Text(f"{advice['said']}\n")
    rows = [
        (str(n), one["order"], one["laying"], str(one["measures"]), *_millimetres(one))
        for n, one in enumerate(advice["orders"], 1)
    ]
    yield table("Steadiest first; figures are root mean square, in mm", HEADS, rows)
    for name, meaning in {one["order"]: one["is"] for one in advice["orders"]}.items():
        yield Text.assemble((f"{name}: ", "bold"), meaning)


def _millimetres(one: Mapping[str, Any]) -> tuple[str, str, str]:
    crossing = "" if one["crossings_mm"] is None else f"{one['crossings_mm']:.2f}"
    return f"{one['worst_mm']:.2f} {one['worst']}", f"{one['last_mm']:.2f} {one['last']}", crossing
