"""Commands that work on a design file: numbers, findings, thread, booklet, picture."""

from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

from polestitch.cli.files import design_of, document_of, refuse_unwritable, write_whole
from polestitch.cli.options import AsJson, DesignFile, MeasuredAround, Output, Paper
from polestitch.cli.printing import patience, print_json, show
from polestitch.errors import DesignError

if TYPE_CHECKING:
    from polestitch.pipeline import Build

SMALLEST_PICTURE, LARGEST_PICTURE = 16, 6000
Facing = Annotated[str, typer.Option("--facing", metavar="N|S|ADDRESS", help="Which spot looks at you.")]
Size = Annotated[int, typer.Option("--size", metavar="PIXELS", help="Width and height of the picture.")]


def work(design: DesignFile, around: MeasuredAround = None, as_json: AsJson = False) -> None:
    """Work a design out: rows, thread, hours."""
    build, payload = _worked_out(design, around)
    if as_json:
        print_json(payload)
        return
    from polestitch.cli.tables import work_tables

    show(work_tables(build.design.name, payload, build.design.maker.units))


def check(design: DesignFile, around: MeasuredAround = None, as_json: AsJson = False) -> None:
    """Tell what to change or decide beforehand."""
    build, payload = _worked_out(design, around)
    found = payload["findings"]
    if as_json:
        print_json({"name": build.design.name, "findings": found})
        return
    from polestitch.cli.tables import check_tables

    show(check_tables(build.design.name, found))


def thread(design: DesignFile, around: MeasuredAround = None, as_json: AsJson = False) -> None:
    """Tell the thread leg by leg as it lies, for those who check us.

    With --json every leg of every row as points on the ball, in stitching order, and every bite.
    """
    from polestitch.thread import thread_json

    build = _built(design, around)
    payload = thread_json(build)
    if as_json:
        print_json(payload, indent=None)
        return
    from polestitch.cli.tables import thread_tables

    show(thread_tables(build.design.name, payload, build.design.maker.units))


def sheets(design: DesignFile, output: Output, paper: Paper = "a4", around: MeasuredAround = None) -> None:
    """Write the booklet to stitch from (PDF).

    Cover, materials with amounts, other sizes of ball, marking, numbered steps with charts, finishing.
    """
    from polestitch.sheets.sheet import paper_named

    paper_named(paper)
    refuse_unwritable(output)
    from polestitch.fitting import sizes_if_quick
    from polestitch.sheets.booklet import booklet

    made = _built(design, around)
    with patience("Writing the booklet", len(made.design.layers) + 1) as done:
        sizes = sizes_if_quick(document_of(design), made)
        done("other sizes")
        whole = booklet(made, paper, done=done, sizes=sizes)
    write_whole(output, whole)


def picture(
    design: DesignFile, output: Output, facing: Facing = "N", size: Size = 1000, around: MeasuredAround = None
) -> None:
    """Write a picture of the finished ball.

    A name that ends in .png gives the ball as it will look, one in .svg a line chart of its threads.
    """
    kind = output.suffix.lower()
    if kind not in (".png", ".svg"):
        raise DesignError("-o", f'"{output.name}" is no picture file; end its name in .png or .svg')
    if not SMALLEST_PICTURE <= size <= LARGEST_PICTURE:
        raise DesignError("--size", f"{size} pixels is out of range; give {SMALLEST_PICTURE} to {LARGEST_PICTURE}")
    refuse_unwritable(output)
    write_whole(output, picture_of(_built(design, around), kind, facing, size))


def picture_of(build: "Build", kind: str, facing: str, size: int) -> bytes | str:
    """The picture: PNG bytes or SVG text."""
    if kind == ".svg":
        from polestitch.picture.svg import svg

        return svg(build, facing, size)
    from polestitch.picture.render import png

    return png(build, facing, size)


def _built(path: Path, around: str | None) -> "Build":
    from polestitch.pipeline import build

    return build(design_of(path, around))


def _worked_out(path: Path, around: str | None) -> tuple["Build", dict[str, Any]]:
    build = _built(path, around)
    return build, figures(build)


def figures(build: "Build") -> dict[str, Any]:
    """Every figure of a build, as ``work --json`` prints them."""
    from polestitch.summary import work_json
    from polestitch.workup import workup

    worked = workup(build)
    return work_json(build, worked.estimate, worked.findings, worked.route.mm, worked.doubt)
