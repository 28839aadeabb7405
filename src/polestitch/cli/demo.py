"""The demo work-up: booklet, strip and picture of every example, and a summary in the terminal."""

from collections.abc import Iterator
from pathlib import Path
from typing import Annotated, Any

import typer

from polestitch.cli.designs import figures, picture_of
from polestitch.cli.files import design_of, document_of, write_whole
from polestitch.cli.options import Paper
from polestitch.cli.printing import progress, show
from polestitch.errors import DesignError

Out = Annotated[Path, typer.Option("--out", metavar="FOLDER", help="Folder to write to.")]
Examples = Annotated[Path, typer.Option("--examples", metavar="FOLDER", help="Folder of design files.")]


def demo(out: Out = Path("out"), examples: Examples = Path("examples"), paper: Paper = "a4") -> None:
    """Work up every design of a folder: booklet, strip, pictures and numbers."""
    from polestitch.cli.tables import demo_tables

    designs = sorted(examples.glob("*.json"))
    if not designs:
        raise DesignError("--examples", f"there is no design file in {examples}; name a folder that holds some")
    out.mkdir(parents=True, exist_ok=True)
    summaries = []
    with progress("Working up", 6 * len(designs)) as step:
        for path in designs:
            for told in _worked_up(path, out, paper):
                step(f"{path.stem}: {told['did']}")
                summaries += [told] if "work" in told else []
    show(demo_tables(summaries, out))


def _worked_up(path: Path, out: Path, paper: str) -> Iterator[dict[str, Any]]:
    """Do the work of one design piece by piece, telling each piece when it is done."""
    from polestitch.fitting import sizes_if_quick
    from polestitch.picture.render import png
    from polestitch.pipeline import build
    from polestitch.sheets.booklet import PICTURE, booklet
    from polestitch.sheets.strip import strip

    made = build(design_of(path))
    yield {"did": "numbers", "name": made.design.name, "file": path.stem, "work": figures(made)}
    photograph = png(made, "N", PICTURE)
    write_whole(out / f"{path.stem}.png", photograph)
    yield {"did": "picture"}
    write_whole(out / f"{path.stem}.svg", picture_of(made, ".svg", "N", 1000))
    yield {"did": "line picture"}
    write_whole(out / f"{path.stem}-strip.pdf", strip(made.design.marking.division, made.ball.around_mm, paper))
    yield {"did": "strip"}
    sizes = sizes_if_quick(document_of(path), made)
    yield {"did": "other sizes"}
    write_whole(out / f"{path.stem}-booklet.pdf", booklet(made, paper, photograph, sizes=sizes))
    yield {"did": "booklet"}
