"""Colour plans on the command line."""

from typing import Annotated, Any, Literal

import typer

from polestitch.cli.files import design_of
from polestitch.cli.options import AsJson, DesignFile
from polestitch.cli.printing import print_json, show
from polestitch.errors import DesignError

LayerName = Annotated[str, typer.Option("--layer", metavar="NAME", help="Which layer's motifs to colour.")]
Threads = Annotated[
    str, typer.Option("--threads", metavar="NAMES", help='Threads, commas between; "gold 2, teal" uses gold twice.')
]
Facing = Annotated[str, typer.Option("--opposite", metavar="any|same|differ", help="Motifs opposite each other.")]


def colour_plans(
    design: DesignFile, layer: LayerName, threads: Threads, opposite: Facing = "any", as_json: AsJson = False
) -> None:
    """Give threads to the like motifs of a layer, like ones far apart."""
    from polestitch.colouring import Rules
    from polestitch.colouring import colour_plans as planned
    from polestitch.colouring.told import plans_json
    from polestitch.pipeline import build

    made = build(design_of(design))
    names = [one.name for one in made.design.layers]
    if layer not in names:
        raise DesignError("--layer", f'there is no layer "{layer}"; there are {", ".join(names)}')
    wanted = _threads(threads, [thread.name for thread in made.design.threads])
    count = sum(motif.layer == names.index(layer) for motif in made.motifs)
    uses = tuple((n, n) if n else (1, count) for n in wanted.values())
    found = planned(made.motifs, names.index(layer), Rules(len(wanted), uses, opposite=_facing(opposite)))
    payload = plans_json(found, list(wanted), made.ball)
    if as_json:
        print_json(payload)
        return
    _show(made.design.name, layer, payload)


def _threads(text: str, known: list[str]) -> dict[str, int]:
    """Thread names with how often each is wanted, 0 for as often as may be."""
    wanted = dict[str, int]()
    for part in text.split(","):
        name, _, number = part.strip().rpartition(" ")
        named, times = (name.strip(), int(number)) if name and number.isdecimal() else (part.strip(), 0)
        if named not in known:
            raise DesignError("--threads", f'"{named}" is no thread of this design; there are {", ".join(known)}')
        if named in wanted:
            raise DesignError("--threads", f"{named} is named twice; name each thread once")
        wanted[named] = times
    return wanted


def _facing(text: str) -> Literal["any", "same", "differ"]:
    facing: dict[str, Literal["any", "same", "differ"]] = {"any": "any", "same": "same", "differ": "differ"}
    if text not in facing:
        raise DesignError("--opposite", f'"{text}" is none of any, same and differ')
    return facing[text]


def _show(name: str, layer: str, told: dict[str, Any]) -> None:
    from rich.text import Text

    from polestitch.cli.tables import heading, table

    rows = [
        (
            str(n),
            f"{plan['apart_mm']:.0f} mm" if plan["apart_mm"] else "",
            "; ".join(f"{thread['name']}: {', '.join(thread['where'])}" for thread in plan["threads"]),
        )
        for n, plan in enumerate(told["plans"], 1)
    ]
    heads = (">#", ">like ones apart", "thread: where")
    show([heading(f"{name}: {layer}"), Text(f"{told['said']}\n"), table("The most spread out first", heads, rows)])
