"""Colour plans and shades on the command line."""

import json
import re
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

from polestitch.cli.files import document_of, refuse_existing, refuse_unwritable, write_whole
from polestitch.cli.options import AsJson, DesignFile, Paper
from polestitch.cli.printing import print_json, show
from polestitch.errors import DesignError

if TYPE_CHECKING:
    from polestitch.pipeline import Build
    from polestitch.recolouring.dozen import Dozen
    from polestitch.recolouring.wishes import Wishes

Threads = Annotated[
    str,
    typer.Option(
        "--threads",
        metavar="NAMES",
        help='Threads, commas between. "gold 2" is used twice, "gold 2+" at least twice, "gold 2-4" two to four times.',
    ),
]
LayerName = Annotated[
    str,
    typer.Option(
        "--layer",
        metavar="NAME",
        help='Whose motifs to colour. "stripes of NAME" and "rows of NAME" colour its rows, "all layers" whole layers.',
    ),
]
How = Annotated[
    str,
    typer.Option(
        "--rules",
        metavar="WORDS",
        help="Commas between. What is best: apart, contrast or graded. And: opposite same, opposite differ, neighbours "
        "may match, mirrors are one, instead of THREAD.",
    ),
]
PlansFile = Annotated[Path, typer.Argument(help="What colour-plans --json printed for this design.")]
Number = Annotated[int, typer.Option("--plan", metavar="N", help="Which plan goes into the new design.")]
Written = Annotated[
    Path,
    typer.Option("-o", "--output", metavar="FILE", help="All plans as pictures: .png or .pdf. The new design: .json."),
]
PRINTED = 480  # pixels of a picture on paper, 20 mm wide and more
_THREAD = re.compile(r"(?P<name>.+?)(?:\s+(?P<least>\d+)(?:(?P<open>\+)|-(?P<most>\d+))?)?")
_OPTIONS = {"instead_of": "--rules"} | {wish: f"--{wish}" for wish in ("layer", "threads", "count", "plan")}
_SIMPLE: dict[str, dict[str, Any]] = {
    **{word: {"order": word} for word in ("apart", "contrast", "graded")},
    **{f"opposite {word}": {"opposite": word} for word in ("any", "same", "differ")},
    "neighbours may match": {"neighbours_differ": False},
    "mirrors are one": {"mirrors": True},
}


def colour_plans(
    design: DesignFile, layer: LayerName, threads: Threads, rules: How = "", as_json: AsJson = False
) -> None:
    """Give threads to motifs, rows or layers: the best dozen plans, and how many really different ones there are."""
    from polestitch.recolouring.told import dozen_json

    document = document_of(design)
    made = _built(document)
    with _told_of_options():
        plans = _dozen(made, _wishes(made, threads, layer, rules))
    payload = dozen_json(plans, made.ball)
    if as_json:
        print_json(payload)
        return
    _show(made.design.name, layer, payload)


def recolour(design: DesignFile, plans: PlansFile, output: Written, number: Number = 1, paper: Paper = "a4") -> None:
    """Write a design in the colours of one of its colour plans, or pictures of all of them."""
    kind = output.suffix.lower()
    if kind not in (".png", ".pdf", ".json"):
        raise DesignError("-o", f'"{output.name}": end its name in .json for the design, in .png or .pdf for pictures')
    (refuse_existing if kind == ".json" else refuse_unwritable)(output)
    document = document_of(design)
    made = _built(document)
    found = _dozen(made, _asked(plans))
    if kind != ".json":
        write_whole(output, _pictures(made, found, kind, paper))
        return
    from polestitch.recolouring.applied import applied

    with _told_of_options():
        new = applied(document, made, found, number)
    write_whole(output, json.dumps(new.document, indent=2, ensure_ascii=False) + "\n")
    for sentence in new.said:
        typer.echo(sentence)


def _built(document: dict[str, Any]) -> "Build":
    from polestitch.document.codec import read
    from polestitch.pipeline import build

    return build(read(json.dumps(document)))


def _dozen(made: "Build", wishes: "Wishes") -> "Dozen":
    from polestitch.recolouring.dozen import dozen

    return dozen(made, wishes)


def _asked(path: Path) -> "Wishes":
    """The wishes that a file of plans was made by."""
    from pydantic import ValidationError

    from polestitch.document.jsontext import json_object
    from polestitch.recolouring.wishes import Wishes

    told = json_object(path.read_bytes(), str(path), "file of plans")
    try:
        return Wishes.model_validate_json(json.dumps(told.get("asked")))
    except ValidationError:
        raise DesignError(str(path), "holds no colour plans; write it with colour-plans --json") from None


def _wishes(made: "Build", threads: str, layer: str, rules: str) -> "Wishes":
    """The words of the options as wishes; a thread used "2" times is used exactly so often."""
    from pydantic import ValidationError

    from polestitch.document.sentences import design_error
    from polestitch.recolouring.wishes import Wishes

    known = {thread.name for thread in made.design.threads}
    named = [part.strip() for part in threads.split(",") if part.strip()]
    if not named:
        raise DesignError("--threads", 'names no thread; write them with commas between, such as "red, white"')
    said: dict[str, Any] = {"threads": [_thread(part, known) for part in named]}
    said |= _parts(layer, [entry.name for entry in made.design.layers]) | _ruled(rules)
    try:
        return Wishes.model_validate(said)
    except ValidationError as error:
        raise design_error(error, Wishes) from None


def _ruled(rules: str) -> dict[str, Any]:
    """The words of ``--rules`` as wishes; two that contradict each other are told."""
    said: dict[str, Any] = {}
    for rule in filter(None, (" ".join(part.split()) for part in rules.split(","))):
        one = {"instead_of": rule.removeprefix("instead of ")} if rule.startswith("instead of ") else _SIMPLE.get(rule)
        if one is None:
            raise DesignError("--rules", f'"{rule}" is no rule; there are {", ".join(_SIMPLE)}, instead of THREAD')
        if any(said.get(key, value) != value for key, value in one.items()):
            raise DesignError("--rules", f'"{rule}" contradicts a rule before it; leave one of the two out')
        said |= one
    return said


@contextmanager
def _told_of_options() -> Iterator[None]:
    """What is wrong with a wish is told at the option it was given by."""
    try:
        yield
    except DesignError as error:
        wish = re.split(r"[\[.]", error.where, maxsplit=1)[0]
        raise DesignError(_OPTIONS.get(wish, error.where), error.what) from None


def _parts(layer: str, layers: list[str]) -> dict[str, str]:
    """What takes a thread each; the name of a layer comes before any word."""
    by, _, name = layer.partition(" of ")
    if layer not in layers and by in ("stripes", "rows", "motifs") and name in layers:
        return {"by": by, "layer": name}
    return {"by": "layers"} if layer not in layers and layer == "all layers" else {"by": "motifs", "layer": layer}


def _thread(part: str, known: set[str]) -> dict[str, Any]:
    """One thread of the list; a name that ends in a number is a name if the design has it."""
    match = None if part in known else _THREAD.fullmatch(part)
    if match is None or match["least"] is None:
        return {"name": part}
    least = int(match["least"])
    most = None if match["open"] else int(match["most"] or least)
    if least > 64 or (most or 0) > 64:
        raise DesignError("--threads", f'"{part}": a thread is used 64 times at most')
    return {"name": match["name"], "least": least, "most": most}


def _pictures(made: "Build", plans: "Dozen", kind: str, paper: str) -> bytes:
    from polestitch.recolouring.pictures import contact_sheet, pictures, plain_files

    if kind == ".png":
        return contact_sheet(pictures(made, plans))
    from polestitch.recolouring.told import dozen_json
    from polestitch.sheets.plans_page import plans_pdf
    from polestitch.sheets.sheet import paper_named

    paper_named(paper)
    told = dozen_json(plans, made.ball)
    return plans_pdf(made.design.name, told, list(plain_files(pictures(made, plans, PRINTED))), paper)


def _show(name: str, layer: str, told: dict[str, Any]) -> None:
    from rich.text import Text

    from polestitch.cli.tables import heading, table

    rows = [
        (
            str(n),
            plan["said"],
            "; ".join(f"{thread['name']}: {thread['said']}" for thread in plan["threads"]),
            " ".join(plan["notes"]),
        )
        for n, plan in enumerate(told["plans"], 1)
    ]
    heads = (">#", "good because", "thread: where", "take care")
    show(
        [
            heading(f"{name}: {layer}"),
            Text("\n".join([told["said"], *told["notes"]]) + "\n"),
            table("The best first", heads, rows),
        ]
    )


Between = Annotated[str, typer.Argument(help='Two colours, "#1d2b5a #f4f1ea", or one to shade from dark to light.')]
Count = Annotated[int, typer.Option("--count", metavar="N", help="How many shades, both ends among them.")]
Owned = Annotated[
    Path | None, typer.Option("--design", metavar="FILE", help="A design whose threads are looked through.")
]


def shades(colours: Between, count: Count = 5, design: Owned = None, as_json: AsJson = False) -> None:
    """Grade evenly between two colours, or one from dark to light, with the nearest thread to each shade."""
    from polestitch.colouring.shades import grade, ramp
    from polestitch.colouring.shades import shades_json as told

    ends = [_colour(part) for part in colours.replace(",", " ").split()]
    if not 1 <= len(ends) <= 2:
        raise DesignError("colours", "name one colour or two, such as #1d2b5a #f4f1ea")
    owned = [] if design is None else _owned(document_of(design))
    with _told_of_options():
        found = ramp(ends[0], count, owned) if len(ends) == 1 else grade(ends[0], ends[1], count, owned)
    if as_json:
        print_json({"shades": told(found)})
        return
    for shade in found:
        near = "" if shade.nearest is None else f"  nearest {shade.nearest[1]}, off by {shade.off:.1f}"
        typer.echo(f"{shade.colour}{near}")
    if owned:
        typer.echo("Off by: how different the two look, as CIEDE2000 measures it; 0 is the same colour.")


def _colour(text: str) -> str:
    from polestitch.document.colours import Colour

    try:
        return str(Colour(text))
    except ValueError as error:
        raise DesignError("colours", str(error)) from None


def _owned(document: dict[str, Any]) -> list[tuple[str, str, str]]:
    return [(thread["name"], thread["name"], thread["colour"]) for thread in document["threads"]]
