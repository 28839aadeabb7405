"""Time and price on the command line."""

from collections.abc import Mapping
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

from polestitch.cli.files import design_of, pdf_named, refuse_unwritable, write_whole
from polestitch.cli.options import AsJson, DesignFile, MeasuredAround
from polestitch.cli.printing import print_json, show
from polestitch.errors import DesignError

if TYPE_CHECKING:
    from polestitch.costing import Pace
    from polestitch.workup import WorkUp

CostsFile = Annotated[Path, typer.Option("--costs", metavar="FILE", help="What you pay and ask (JSON; costs-schema).")]
Sittings = Annotated[
    Path | None, typer.Option("--sittings", metavar="FILE", help="Your sittings: what was done, how long (CSV).")
]
Page = Annotated[Path | None, typer.Option("-o", "--output", metavar="FILE", help="Also write it as one page (PDF).")]
PACE_HEADS = ("kind of work", ">from", ">likely", ">to", "")
LINE_HEADS = ("the price is made of", ">if quick", ">likely", ">if slow")
THREAD_HEADS = ("thread", ">metres", ">a skein", ">by the metre", ">skeins", ">whole skeins")


def hours(
    design: DesignFile, sittings: Sittings = None, around: MeasuredAround = None, as_json: AsJson = False
) -> None:
    """Tell the hours of a ball as a range, narrowed by your own logged sittings."""
    from polestitch.costing.sitting import work_in
    from polestitch.costing.told import hours_json

    work = _work(design, around)
    told = {
        "name": work.build.design.name,
        "around_mm": round(work.build.ball.around_mm, 3),
        **hours_json(_pace(sittings), work_in(work.estimate.hours)),
    }
    if as_json:
        print_json(told)
        return
    from polestitch.cli.tables import heading

    facts = (f"{told['around_mm']:.0f} mm round", f"{told['low']:.1f}–{told['high']:.1f} hours of work")
    show([heading(told["name"], *facts), *_hours_parts(told)])


def price(
    design: DesignFile, costs: CostsFile, sittings: Sittings = None, output: Page = None, as_json: AsJson = False
) -> None:
    """Tell what a price is made of: thread, materials, hours, overhead, commission; as a range."""
    if output is not None:
        refuse_unwritable(pdf_named(output))
    from polestitch.costing import costs_of
    from polestitch.costing.told import told_of
    from polestitch.document.jsontext import MOST_BYTES

    with costs.open("rb") as file:
        asked = costs_of(file.read(MOST_BYTES + 1), str(costs))
    told = told_of(_work(design, None), _pace(sittings), asked)
    if output is not None:
        from polestitch.sheets.price_page import price_pdf

        write_whole(output, price_pdf(told, asked.paper))
    if as_json:
        print_json(told)
        return
    from polestitch.cli.tables import heading

    facts = (f"{told['around_mm']:.0f} mm round", f"{told['hours']['low']:.1f}–{told['hours']['high']:.1f} hours")
    show([heading(told["name"], *facts), *_price_parts(told["price"]), *_hours_parts(told["hours"])])


def costs_schema() -> None:
    """Print the JSON Schema of the file that --costs reads."""
    from polestitch.costing import costs_schema as made

    print_json(made())


def _work(path: Path, around: str | None) -> "WorkUp":
    from polestitch.pipeline import build
    from polestitch.workup import workup

    return workup(build(design_of(path, around)))


def _pace(path: Path | None) -> "Pace":
    """Her pace by the table, whose designs are looked for beside it."""
    from polestitch.costing import pace, sittings_of

    if path is None:
        return pace()
    known: dict[str, Mapping[str, float]] = {}

    def work_of(name: str, where: str) -> Mapping[str, float]:
        if name not in known:
            known[name] = _amounts(path.parent / name, where)
        return known[name]

    return pace(sittings_of(path.read_bytes(), str(path), work_of))


def _amounts(path: Path, where: str) -> Mapping[str, float]:
    from polestitch.costing.sitting import work_in

    if not path.is_file():
        raise DesignError(where, f"there is no design file {path}; name one beside the table")
    return work_in(_work(path, None).estimate.hours)


def _hours_parts(told: Mapping[str, Any]) -> list[Any]:
    from rich.text import Text

    from polestitch.cli.tables import table

    paces = [
        (one["label"], f"{one['low']:.0f}", f"{one['likely']:.0f}", f"{one['high']:.0f}", one["unit"])
        for one in told["paces"]
    ]
    return [*(Text(line) for line in told["said"]), table("Pace", PACE_HEADS, paces)]


def _price_parts(told: Mapping[str, Any]) -> list[Any]:
    from rich.text import Text

    from polestitch.cli.tables import table

    ends = ("low", "likely", "high")
    lines = [(line["label"], *(line[end] for end in ends)) for line in told["lines"]]
    whole = (f"Price in {told['currency']}", *(told["price"][end] for end in ends))
    threads = [
        (
            one["name"],
            f"{one['metres']:.1f}",
            one["price"] or "–",
            f"{one['used']} {one['currency']}" if one["used"] else "–",
            "–" if one["skeins"] is None else str(one["skeins"]),
            f"{one['bought']} {one['currency']}" if one["bought"] else "–",
        )
        for one in told["threads"]
    ]
    said = [*told["not_counted"], *told["said"], *([told["at"]["said"]] if told["at"] else [])]
    made = [table("", LINE_HEADS, [*lines, whole]), table("Thread", THREAD_HEADS, threads)]
    return [*made, *(Text(line) for line in said), Text("")]
