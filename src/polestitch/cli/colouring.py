"""Colour plans and shades on the command line."""

import json
import re
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

from polestitch.cli.files import document_of, refuse_unwritable, write_whole
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
LayerName = Annotated[str, typer.Option("--layer", metavar="NAME", help="Which layer to colour; not asked by layers.")]
How = Annotated[
    str,
    typer.Option(
        "--rules",
        metavar="WORDS",
        help="Words with commas between. What takes a thread each: motifs, stripes, rows or layers. What is best: "
        "apart, contrast or graded. And: opposite same, opposite differ, neighbours may match, mirrors are one, "
        "instead of THREAD.",
    ),
]
Apply = Annotated[int, typer.Option("--apply", metavar="N", help="Put plan N into the design; -o names the new file.")]
Written = Annotated[
    Path | None,
    typer.Option("-o", "--output", metavar="FILE", help="Pictures of all plans as .png or .pdf; with --apply a .json."),
]
_THREAD = re.compile(r"(?P<name>.+?)(?:\s+(?P<least>\d+)(?:(?P<open>\+)|-(?P<most>\d+))?)?")
_SIMPLE = {
    **{word: {"by": word} for word in ("motifs", "stripes", "rows", "layers")},
    **{word: {"order": word} for word in ("apart", "contrast", "graded")},
    **{f"opposite {word}": {"opposite": word} for word in ("any", "same", "differ")},
    "neighbours may match": {"neighbours_differ": False},
    "mirrors are one": {"mirrors": True},
}


def colour_plans(
    design: DesignFile,
    threads: Threads,
    layer: LayerName = "",
    rules: How = "motifs",
    apply: Apply = 0,
    output: Written = None,
    paper: Paper = "a4",
    as_json: AsJson = False,
) -> None:
    """Give threads to motifs, rows or layers: the best dozen plans, with how many really different ones there are."""
    from polestitch.document.codec import read
    from polestitch.pipeline import build
    from polestitch.recolouring.dozen import dozen
    from polestitch.recolouring.told import dozen_json

    _check_output(apply, output)
    document = document_of(design)
    made = build(read(json.dumps(document)))
    plans = dozen(made, _wishes(made, threads, layer, rules))
    payload = dozen_json(plans, made.ball)
    if apply:
        payload["applied"] = _applied(document, made, plans, (apply, output))
    elif output is not None:
        write_whole(output, _pictures(made, plans, output, paper))
    if as_json:
        print_json(payload)
        return
    _show(made.design.name, layer or "layers", payload)


def _check_output(apply: int, output: Path | None) -> None:
    """A wrong ending is told before the long work."""
    if apply and (output is None or output.suffix.lower() != ".json"):
        raise DesignError("-o", "name the file for the new design, such as -o new.json")
    if output is not None:
        if not apply and output.suffix.lower() not in (".png", ".pdf"):
            raise DesignError("-o", f"{output.name}: pictures are written as .png or .pdf")
        refuse_unwritable(output)


def _wishes(made: "Build", threads: str, layer: str, rules: str) -> "Wishes":
    """The words of the options as wishes; a thread used "2" times is used exactly so often."""
    from polestitch.recolouring.wishes import Wishes

    known = {thread.name for thread in made.design.threads}
    said: dict[str, Any] = {"layer": layer, "threads": [_thread(part.strip(), known) for part in threads.split(",")]}
    for rule in filter(None, (" ".join(part.split()) for part in rules.split(","))):
        if rule.startswith("instead of "):
            said["instead_of"] = rule.removeprefix("instead of ")
        elif rule in _SIMPLE:
            said.update(_SIMPLE[rule])
        else:
            raise DesignError("--rules", f'"{rule}" is no rule; there are {", ".join(_SIMPLE)}, instead of THREAD')
    return Wishes.model_validate(said)


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


def _applied(document: dict[str, Any], made: "Build", plans: "Dozen", where: tuple[int, Path | None]) -> dict[str, Any]:
    from polestitch.recolouring.applied import applied

    number, output = where
    new = applied(document, made, plans, number)
    if output is not None:
        write_whole(output, json.dumps(new.document, indent=2, ensure_ascii=False) + "\n")
    return {"plan": number, "layers": len(new.document["layers"]), "changed": new.changed, "said": list(new.said)}


def _pictures(made: "Build", plans: "Dozen", output: Path, paper: str) -> bytes:
    from polestitch.recolouring.pictures import contact_sheet, pictures, plain_files

    if output.suffix.lower() == ".png":
        return contact_sheet(pictures(made, plans))
    from polestitch.recolouring.told import dozen_json
    from polestitch.sheets.plans_page import plans_pdf

    told = {**dozen_json(plans, made.ball), "design": made.design.name}
    return plans_pdf(told, list(plain_files(pictures(made, plans, 480))), paper)


def _show(name: str, layer: str, told: dict[str, Any]) -> None:
    from rich.text import Text

    from polestitch.cli.tables import heading, table

    rows = [
        (
            str(n),
            plan["said"],
            "; ".join(f"{thread['name']}: {', '.join(thread['where'])}" for thread in plan["threads"]),
            " ".join(plan["alike"]),
        )
        for n, plan in enumerate(told["plans"], 1)
    ]
    heads = (">#", "good because", "thread: where", "look alike")
    show([heading(f"{name}: {layer}"), Text(f"{told['said']}\n"), table("The best first", heads, rows)])
    for sentence in told.get("applied", {}).get("said", []):
        typer.echo(sentence)


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
    found = ramp(ends[0], count, owned) if len(ends) == 1 else grade(ends[0], ends[1], count, owned)
    if as_json:
        print_json({"shades": told(found)})
        return
    for shade in found:
        near = "" if shade.nearest is None else f"  nearest {shade.nearest[1]}, ΔE {shade.off:.1f}"
        typer.echo(f"{shade.colour}{near}")


def _colour(text: str) -> str:
    from polestitch.document.colours import Colour

    try:
        return str(Colour(text))
    except ValueError as error:
        raise DesignError("colours", str(error)) from None


def _owned(document: dict[str, Any]) -> list[tuple[str, str, str]]:
    return [(thread["name"], thread["name"], thread["colour"]) for thread in document["threads"]]
