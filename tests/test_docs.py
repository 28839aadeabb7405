"""Docs that no test reads go stale: made pages agree with the code, every word and command is told."""

import re
from pathlib import Path

import pytest

from polestitch.cli.app import COMMANDS
from polestitch.stitching.technique import names
from tools.reference_pages import PACKAGE, ROOMS, pages

DOCS = Path(__file__).parents[1] / "docs"
# The words of the model; each has to have one meaning that a maker can look up.
WORDS = (
    "ball, pole, obi, division, marking, guideline, support line, motif, layer, row, lap, bite, span, pitch, crossing, "
    "step, laid thread, sheet, scene, technique, address, pin plan, finding, overlapped, layered, build-up, cover, slip"
)


@pytest.fixture(scope="module")
def made() -> dict[str, str]:
    return pages()


@pytest.mark.slow
def test_made_pages_are_as_the_code_says(made: dict[str, str]) -> None:
    stale = [name for name, text in made.items() if (DOCS / name).read_text(encoding="utf-8") != text]
    assert stale == [], "make docs writes them anew"


def test_every_room_stands_in_the_architecture() -> None:
    rooms = {path.name for path in PACKAGE.iterdir() if path.name not in ("__init__.py", "__pycache__", "py.typed")}
    assert rooms == set(ROOMS)


def test_the_architecture_names_every_file(made: dict[str, str]) -> None:
    text = made["architecture.md"]
    files = [path for path in PACKAGE.rglob("*.py") if path.stem != "__init__"]
    assert [path.name for path in files if path.name not in text] == []


def test_every_word_is_in_the_glossary_once() -> None:
    text = (DOCS / "glossary.md").read_text(encoding="utf-8")
    heads = re.findall(r"^\| (\*\*.+?) \|", text, re.MULTILINE)
    told = [word for head in heads for word in re.findall(r"\*\*(.+?)\*\*", head)]
    assert len(told) == len(set(told))
    assert set(WORDS.split(", ")) - set(told) == set()


def test_every_technique_and_command_is_told(made: dict[str, str]) -> None:
    assert [name for name in names() if f"## {name}\n" not in made["reference/techniques.md"]] == []
    assert [name for name in COMMANDS if f"## {name}\n" not in made["reference/commands.md"]] == []


@pytest.mark.parametrize("path", sorted((DOCS / "decisions").glob("*.md")), ids=lambda path: path.stem)
def test_a_decision_says_what_why_and_at_what_cost(path: Path) -> None:
    heads = re.findall(r"^##? (.+)$", path.read_text(encoding="utf-8"), re.MULTILINE)
    assert heads[1:] == ["We do", "Because", "It costs us"]
