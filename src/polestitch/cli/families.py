"""Commands of the traditional repertoire: list its families, and begin a design of her own from one."""

import json
from pathlib import Path
from typing import Annotated

import typer

from polestitch.cli.files import around_mm, refuse_existing, write_whole
from polestitch.cli.options import AsJson
from polestitch.cli.printing import print_json, show

FamilyName = Annotated[str, typer.Argument(metavar="FAMILY", help="A name that polestitch families lists.")]
OfKind = Annotated[
    str | None, typer.Option("--kind", metavar="KIND", help="Only flowers, stars, polygons, spindles, faces …")
]
NewAround = Annotated[
    str | None, typer.Option("--around", metavar="LENGTH", help="Circumference of your ball: 300mm, 30cm or 11.8in.")
]
OnDivision = Annotated[
    str | None, typer.Option("--division", metavar="DIVISION", help="Another division that the family works on.")
]
NewFile = Annotated[
    Path | None, typer.Option("-o", "--output", metavar="FILE", help="File to write, if not FAMILY.json.")
]


def families(kind: OfKind = None, as_json: AsJson = False) -> None:
    """List the families of traditional patterns to begin from."""
    from polestitch.families.family import families_json

    listed = families_json(kind)
    if as_json:
        print_json({"families": listed})
        return
    from polestitch.cli.tables import family_tables

    show(family_tables(listed))


def new(
    family: FamilyName,
    around: NewAround = None,
    division: OnDivision = None,
    output: NewFile = None,
    as_json: AsJson = False,
) -> None:
    """Begin a design from a traditional pattern, planned for your ball."""
    from polestitch.families.family import family as family_named
    from polestitch.families.family import starter

    document = starter(family, None if around is None else around_mm(around), division)
    path = output or Path(f"{family}.json")
    refuse_existing(path)
    write_whole(path, json.dumps(document, indent=2, ensure_ascii=False) + "\n")
    told = {"file": str(path), "family": family, "title": family_named(family).full_title}
    told |= {"division": document["marking"]["division"], "around": document["ball"]["around"]}
    if as_json:
        print_json(told)
        return
    typer.echo("{title} on {division}, {around} round, is in {file}".format(**told))
    typer.echo(f"Next: polestitch check {path}, then polestitch sheets {path} -o booklet.pdf")
