"""The pages that are made from the code, so that they cannot go stale.

They are architecture, techniques, divisions, families and commands.

In: the package.  Out: markdown files under ``docs/``; ``make docs`` writes them, a test compares them.
"""

import ast
import inspect
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from typer.core import TyperGroup
from typer.main import get_command

from polestitch.cli.app import COMMANDS, app
from polestitch.cli.listing import PLACES, division_list, technique_list
from polestitch.families.family import KINDS, Family, families

ROOT = Path(__file__).parents[1]
PACKAGE = ROOT / "src" / "polestitch"
# Rooms in the order a ball is made; a file imports only from rooms above its own.
ROOMS = {
    "errors.py": "nothing",
    "fonts": "nothing",
    "document": "errors",
    "sphere": "errors, numpy",
    "hand": "document",
    "ball": "document, sphere",
    "marking": "ball and above",
    "stitching": "marking and above",
    "laying": "stitching and above",
    "fit.py": "laying and above",
    "pipeline.py": "fit and above",
    "estimate": "fit and above; no other product",
    "checks": "fit and above; no other product",
    "steps": "fit and above; no other product",
    "picture": "fit and above; no other product",
    "symmetry.py": "fit and above; no other product",
    "thread.py": "fit and above; no other product",
    "scene": "fit and above; no other product",
    "survey": "marking and above; no other product",
    "winding": "ball and above; no other product",
    "colouring": "stitching and above; no other product",
    "standing.py": "pipeline, fit, hand and above",
    "doubt.py": "estimate, pipeline, hand and above",
    "workup.py": "the products and above",
    "showing": "workup and above; only what proposes a record needs more than the document",
    "teaching": "workup and above",
    "costing": "workup and above",
    "fitting": "workup and above",
    "sheets": "workup and above",
    "chair": "workup and above; not sheets",
    "recolouring": "pipeline, colouring, picture and above; not sheets",
    "families": "workup and above",
    "summary.py": "workup and above",
    "lessons.py": "fitting, chair, teaching and above",
    "store": "document, errors",
    "studio": "everything but cli",
    "cli": "everything",
}
MADE = "<!-- made by make docs; edit the code instead -->"


def pages() -> dict[str, str]:
    """Markdown of every made page by its path under ``docs/``."""
    return {
        "architecture.md": architecture(),
        "reference/techniques.md": techniques(),
        "reference/divisions.md": divisions(),
        "reference/families.md": families_told(),
        "reference/commands.md": commands(),
    }


def architecture() -> str:
    """The rooms in order, what each may import, and one line a file."""
    intro = (ROOT / "docs" / "architecture-intro.md").read_text(encoding="utf-8")
    rows = [_row(f"`{room}`", _first_line(_entry(room)), may) for room, may in ROOMS.items()]
    table = ["| room | what lives there | may import |", "|---|---|---|", *rows]
    return "\n".join([MADE, "", intro.strip(), "", *table, *(line for room in ROOMS for line in _room(room)), ""])


def _entry(room: str) -> Path:
    return PACKAGE / room if room.endswith(".py") else PACKAGE / room / "__init__.py"


def _room(room: str) -> Iterator[str]:
    files = [path for path in sorted((PACKAGE / room).rglob("*.py")) if path.stem != "__init__"]
    if files:
        yield from ("", f"## {room}", "", "| file | what it holds |", "|---|---|")
    for path in files:
        yield _row(f"`{path.relative_to(PACKAGE / room)}`", _first_line(path))


def _first_line(path: Path) -> str:
    """The first sentence of a module's docstring."""
    docstring = ast.get_docstring(ast.parse(path.read_text(encoding="utf-8"))) or ""
    return " ".join(docstring.split("\n\n")[0].split()).rstrip(".").replace("``", "`")


def techniques() -> str:
    """Every technique with its params."""
    return "\n".join([MADE, "", "# Techniques", *(line for told in technique_list() for line in _technique(told)), ""])


def _technique(told: dict[str, Any]) -> Iterator[str]:
    yield from ("", f"## {told['name']}", "", told["is"], "", f"Worked {PLACES[told['place']]}.")
    if told["params"]:
        yield from ("", "| param | if you say nothing | what it is |", "|---|---|---|")
    for param in told["params"]:
        yield _row(f"`{param['name']}`", param["default"], param["is"])


def divisions() -> str:
    """What each division puts on the ball."""
    every = "S2 to S64, odd ones too, with or without `+obi`; faces by their count, up to 1,002; and these:"
    made = [MADE, "", "# Divisions", "", every, ""]
    made += ["| division | points | circles | half circles | parts |", "|---|---|---|---|---|"]
    keys = ("name", "points", "circles", "half_circles", "triangles")
    return "\n".join([*made, *(_row(*(told[key] for key in keys)) for told in division_list()), ""])


def families_told() -> str:
    """Every family of patterns, kind by kind."""
    made = [
        MADE,
        "",
        "# Families of patterns",
        "",
        "`polestitch new FAMILY --around 30cm` begins a design from one.",
        "",
    ]
    for kind in KINDS:
        told = families(kind)
        made += [
            f"## {kind.capitalize()}",
            "",
            "| family | what it is | divisions | how hard | techniques | published at |",
        ]
        made += ["|---|---|---|---|---|---|", *(_family(name, one) for name, one in told.items()), ""]
    return "\n".join(made)


def _family(name: str, told: Family) -> str:
    sources = ", ".join(f"<{source}>" for source in told.sources) or "common practice"
    hard = f"{told.difficulty_said}: {told.why}"
    what = f"**{told.full_title}**: {told.sentence}"
    return _row(f"`{name}`", what, ", ".join(told.divisions), hard, ", ".join(told.techniques), sources)


def commands() -> str:
    """Every command with its help and its options."""
    group = get_command(app)
    assert isinstance(group, TyperGroup)
    made = [MADE, "", "# Commands", "", "`polestitch COMMAND --help` says the same in the terminal.", ""]
    for name in COMMANDS:
        command = group.commands[name]
        made += [f"## {name}", "", inspect.cleandoc(command.help or ""), "", "| | |", "|---|---|"]
        made += [_row(*_option(parameter)) for parameter in command.params]
        made.append("")
    return "\n".join(made)


def _option(parameter: Any) -> tuple[str, str]:
    names = ", ".join(parameter.opts) if parameter.opts[0].startswith("-") else parameter.name.upper()
    value = f" {parameter.metavar}" if parameter.metavar else ""
    usual = f" Usually {parameter.default}." if parameter.default not in (None, False) else ""
    return f"`{names}{value}`", f"{parameter.help}{usual}"


def _row(*cells: object) -> str:
    """A table row; a bar inside a cell would end it."""
    return "| " + " | ".join(str(cell).replace("|", "\\|") for cell in cells) + " |"


def write_pages() -> None:
    """Write every page to its place."""
    for name, text in pages().items():
        path = ROOT / "docs" / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, encoding="utf-8")


if __name__ == "__main__":
    write_pages()
