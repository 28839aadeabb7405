"""Commands that make a design fit: rows and sizes that end where she wishes, and the same look on another ball."""

import json
import re
from pathlib import Path
from typing import Annotated, Any

import typer

from polestitch.cli.files import around_mm, document_of, refuse_unwritable, write_whole
from polestitch.cli.options import AsJson, DesignFile
from polestitch.cli.printing import print_json, show
from polestitch.errors import DesignError

WishWords = Annotated[
    list[str],
    typer.Option(
        "--wish",
        metavar="WISH",
        help='As "LAYER: meet", "LAYER: meet LAYER", "LAYER: gap 2mm", "LAYER: '
        'reach 5 mm from obi" or "LAYER: fill"; say it again for several.',
    ),
]
ChangeWords = Annotated[
    list[str] | None,
    typer.Option(
        "--change",
        metavar="WHAT",
        help="rows (if you say nothing), stretch, start, start PARAM, thread, pitch or around.",
    ),
]
NewAround = Annotated[str, typer.Option("--around", metavar="LENGTH", help="Circumference of the ball you have.")]
Measured = Annotated[
    str | None, typer.Option("--around", metavar="LENGTH", help="One more size: the circumference you measured.")
]
MaybeOutput = Annotated[
    Path | None, typer.Option("-o", "--output", metavar="FILE", help="File for the changed design.")
]
_CHANGES = ("rows", "stretch", "start", "thread", "pitch", "around")
_GAP = re.compile(r"gap\s+(?P<gap>[\d./ ]+?\s*(?:mm|cm|in))(?:\s+(?P<other>.+))?")


def fit(
    design: DesignFile,
    wish: WishWords,
    change: ChangeWords = None,
    output: MaybeOutput = None,
    as_json: AsJson = False,
) -> None:
    """Find the rows, start, thread or ball with which a layer ends where you wish.

    Several wishes are taken together: repeat --wish and --change, first with first, second with second.
    """
    document = document_of(design)
    wishes = _wishes(document, wish, change or [])
    from polestitch.fitting import fit_answer

    answer = fit_answer(document, {"wishes": wishes})
    _write(output, answer["document"])
    if as_json:
        print_json(answer)
        return
    for found in answer["found"]:
        typer.echo(found["sentence"])
        for offer in found["offers"]:
            typer.echo(f"Or: {offer}")


def replan(design: DesignFile, around: NewAround, output: MaybeOutput = None, as_json: AsJson = False) -> None:
    """Plan a design anew for the ball you have, so that it looks the same."""
    mm = around_mm(around)
    from polestitch.fitting import replanned

    made = replanned(document_of(design), mm)
    _write(output, made.document)
    if as_json:
        print_json({"document": made.document, "changes": list(made.changes)})
        return
    for change in made.changes or ("Nothing changes.",):
        typer.echo(change)


def sizes(design: DesignFile, around: Measured = None, as_json: AsJson = False) -> None:
    """Tell what changes if the ball comes out a little smaller or larger than planned."""
    mm = None if around is None else around_mm(around)
    from polestitch.fitting import sizes_json

    told = sizes_json(document_of(design), mm)
    if as_json:
        print_json(told)
        return
    from polestitch.cli.sizes_table import sizes_tables

    show(sizes_tables(told))


def _wishes(document: dict[str, Any], wishes: list[str], changes: list[str]) -> list[dict[str, Any]]:
    if len(changes) not in (0, len(wishes)):
        raise DesignError("--change", "say what may change once for each --wish, or not at all")
    names = [layer["name"] for layer in document.get("layers", ())]
    pairs = [_layer(said, names) for said in wishes]
    return [
        {"layer": layer, **_wish(said), **_change(how)}
        for (layer, said), how in zip(pairs, changes or ["rows"] * len(wishes), strict=True)
    ]


def _layer(said: str, names: list[str]) -> tuple[str, str]:
    """The layer and the rest of the wish; a design of one layer need not name it."""
    for name in names:
        if said.strip().startswith(f"{name}:"):
            return name, said.strip()[len(name) + 1 :].strip()
    if len(names) == 1 and ":" not in said:
        return names[0], said
    raise DesignError("--wish", f'"{said[:60]}" must begin with a layer and a colon; there are {", ".join(names)}')


def _wish(said: str) -> dict[str, str]:
    word, _, rest = said.strip().partition(" ")
    found = _GAP.fullmatch(said.strip())
    if found is not None:
        return {"wish": "gap", "gap": found["gap"].strip()} | ({"with": found["other"]} if found["other"] else {})
    if word == "meet":
        return {"wish": "meet"} | ({"with": rest.strip()} if rest.strip() else {})
    if word == "reach" and rest.strip():
        return {"wish": "reach", "at": rest.strip()}
    if said.strip() == "fill":
        return {"wish": "fill"}
    hint = 'say "meet", "meet LAYER", "gap 2 mm", "reach 5 mm from obi", "reach centre 2" or "fill"'
    raise DesignError("--wish", f'"{said[:60]}" cannot be read; {hint}')


def _change(said: str) -> dict[str, str]:
    word, _, param = said.strip().partition(" ")
    if word not in _CHANGES or (param and word != "start"):
        known = "rows, stretch, start, start PARAM, thread, pitch or around"
        raise DesignError("--change", f'"{said[:60]}" cannot change; say {known}')
    return {"change": word} | ({"param": param.strip()} if param.strip() else {})


def _write(output: Path | None, document: dict[str, Any]) -> None:
    if output is not None:
        refuse_unwritable(output)
        write_whole(output, json.dumps(document, indent=2, ensure_ascii=False) + "\n")
