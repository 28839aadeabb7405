"""The winding plan on the command line."""

from pathlib import Path
from typing import Annotated, Any

import typer

from polestitch.cli.files import around_mm, said_of
from polestitch.cli.options import Around, AsJson
from polestitch.cli.printing import print_json, show

Inside = Annotated[str, typer.Option("--core", metavar="CORE", help="hulls, foam, soft or wadding.")]
InsideAround = Annotated[
    str | None, typer.Option("--core-around", metavar="LENGTH", help="Circumference of a core you have.")
]
Log = Annotated[
    Path | None,
    typer.Option("--log", metavar="FILE", help="What you wound: material, before, after, grams or metres (CSV)."),
]
HEADS = ("wrap", ">stop at", ">depth", ">weight", ">length", "")


def winding(
    around: Around, core: Inside = "hulls", core_around: InsideAround = None, log: Log = None, as_json: AsJson = False
) -> None:
    """Plan a base: where to stop at each wrap, and how much material it takes."""
    from polestitch.winding import entries_of, learned
    from polestitch.winding import winding as planned
    from polestitch.winding.told import winding_json

    known = learned(entries_of(log.read_bytes(), str(log))) if log is not None else {}
    with said_of("--core-around"):
        inside = around_mm(core_around) if core_around is not None else None
    with said_of("--core"):
        payload = winding_json(planned(around_mm(around), core, inside, densities=known), tuple(known))
    if as_json:
        print_json(payload)
        return
    _show(payload)


def _show(told: dict[str, Any]) -> None:
    from rich.text import Text

    from polestitch.cli.tables import heading, table

    core, weight = told["core"], told["grams"]
    facts = (f"core: {core['title']}, {core['around_mm']:.0f} mm round", f"base about {weight['likely']:.0f} g")
    rows = [
        (
            stop["title"],
            f"{stop['around_mm']:.0f} mm round",
            f"{stop['thickness_mm']:.1f} mm",
            _range(stop["grams"], "g"),
            _range(stop["metres"], "m") if stop["metres"] else "",
            stop["hint"],
        )
        for stop in told["stops"]
    ]
    lines = [told["core"]["said"], *told["said"], *told["cautions"]]
    show(
        [
            heading(f"A base {told['wanted_mm']:.0f} mm round", *facts),
            table("Wind, and stop to measure", HEADS, rows),
            *(Text(f"{line}\n") for line in lines),
        ]
    )


def _range(told: dict[str, float], unit: str) -> str:
    return f"{told['low']:.0f}–{told['high']:.0f} {unit}"
