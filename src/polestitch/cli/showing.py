"""Commands for records of pieces and for shows: what a show says, its papers, and a record begun from a design."""

from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

from polestitch.cli.files import design_of, folder_made, refuse_existing, write_whole
from polestitch.cli.options import AsJson, DesignFile, Paper
from polestitch.cli.printing import patience, print_json, show
from polestitch.document.filenames import file_stem
from polestitch.errors import DesignError

if TYPE_CHECKING:
    from polestitch.showing.exhibition import Exhibition

ShowFile = Annotated[Path, typer.Argument(metavar="SHOW", help="A show file (JSON); schema --show tells its words.")]
Folder = Annotated[Path, typer.Option("-o", "--output", metavar="FOLDER", help="Folder to write the papers into.")]
Kinds = Annotated[
    list[str] | None, typer.Option("--kind", metavar="KIND", help="Only this paper; may be given several times.")
]
PieceNumber = Annotated[str, typer.Option("--number", metavar="NUMBER", help="Your inventory number, such as HL-01.")]
PieceTitle = Annotated[
    str, typer.Option("--title", metavar="TITLE", help="The piece's title, if not the design's name.")
]
RecordFile = Annotated[Path | None, typer.Option("-o", "--output", metavar="FILE", help="File to write, if any.")]


def show_said(show_file: ShowFile, as_json: AsJson = False) -> None:
    """Say what a show holds: pieces, cases, light, sums, and what to look at."""
    from polestitch.showing.told import show_json

    payload = show_json(_show_of(show_file))
    if as_json:
        print_json(payload)
        return
    from polestitch.cli.show_tables import show_tables

    show(show_tables(payload))


def show_papers(show_file: ShowFile, output: Folder, kind: Kinds = None, paper: Paper = "a4") -> None:
    """Write the papers of a show: catalogue, labels, large print, reading text, case plan, lists and forms.

    Kinds: catalogue, labels, large-print, reading-text, case-plan, checklist, loan-form, price-list, insurance-list,
    care-notes.  A piece is pictured by its photograph, else drawn from its design, else not at all.
    """
    from polestitch.sheets.show.papers import KINDS, kinds_named, pictured
    from polestitch.sheets.show.papers import paper as paper_of

    wanted = kinds_named(kind or KINDS)
    exhibition = _show_of(show_file)
    folder_made(output)
    stem = file_stem(exhibition.title, "show")
    with patience("Writing the papers", len(exhibition.shown) + len(wanted)) as done:
        pictures = _pictures(exhibition, show_file.parent, "catalogue" in wanted, done) if pictured(wanted) else {}
        for name in wanted:
            ending, _, data = paper_of(name, exhibition, pictures, paper)
            write_whole(output / f"{stem}{ending}", data)
            done(name)
    typer.echo(f"{len(wanted)} paper{'' if len(wanted) == 1 else 's'} written to {output}.")


def record(design: DesignFile, number: PieceNumber, title: PieceTitle = "", output: RecordFile = None) -> None:
    """Begin the record of a finished piece from its design (JSON): division, threads, estimated hours.

    Put it among the records of a show.  Size, weight and everything else are yours to write down.
    """
    from polestitch.pipeline import build
    from polestitch.showing.codec import written_record
    from polestitch.showing.proposed import proposed
    from polestitch.workup import workup

    _check_words(number, title)
    if output is not None:
        refuse_existing(output)
    text = written_record(proposed(workup(build(design_of(design))), number, title, design.name))
    if output is None:
        typer.echo(text, nl=False)
    else:
        write_whole(output, text)


def _check_words(number: str, title: str) -> None:
    if not 1 <= len(number.strip()) <= 40:
        raise DesignError("--number", 'must be 1 to 40 characters long, such as "HL-01"')
    if len(title) > 80:
        raise DesignError("--title", "must be at most 80 characters long")


def _show_of(path: Path) -> "Exhibition":
    from polestitch.document.jsontext import MOST_BYTES
    from polestitch.showing.codec import read_show

    with path.open("rb") as file:
        return read_show(file.read(MOST_BYTES + 1), str(path))


def _pictures(exhibition: "Exhibition", folder: Path, large: bool, done: Any) -> dict[str, bytes]:
    from polestitch.cli.show_pictures import LARGE, SMALL, pictures_of

    return pictures_of(exhibition, folder, LARGE if large else SMALL, done)
