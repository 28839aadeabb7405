"""The commands of a class."""

import json
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from tests.cli.terminal import Terminal

ROOT = Path(__file__).parents[2]
CLASS = ROOT / "examples" / "harbour-lights" / "class.json"


def keys(value: Any, path: str = "") -> Iterator[str]:
    if isinstance(value, dict):
        for key, inner in value.items():
            yield path + key
            yield from keys(inner, f"{path}{key}.")
    elif isinstance(value, list):
        for inner in value:
            yield from keys(inner, path[:-1] + "[].")


@pytest.mark.slow
def test_the_docs_name_every_key_and_no_other(terminal: Terminal, tmp_path: Path) -> None:
    short = json.loads(CLASS.read_text(encoding="utf-8"))
    short |= {"sessions": [{"minutes": 120}], "design": str(CLASS.parent / short["design"]), "prepared": {"base": True}}
    path = tmp_path / "short.json"
    path.write_text(json.dumps(short), encoding="utf-8")
    said = terminal.run("class", path, "--json")
    assert said.status == 0
    parts = (ROOT / "docs" / "json.md").read_text(encoding="utf-8").split("\n## ")
    part = next(part for part in parts if part.startswith("`polestitch class "))
    assert set(re.findall(r"^\| `([^`]+)`", part, re.MULTILINE)) == set(keys(json.loads(said.out)))


@pytest.mark.slow
def test_a_teacher_reads_what_fits_and_what_to_cut(terminal: Terminal) -> None:
    said = terminal.run("class", CLASS)
    assert said.status == 0
    assert "Most finish in the time there is." in " ".join(said.out.split())
    assert "2, 5, 7, 8: 250 mm" in said.out
    assert "6 and 1 spare: 261 mm" in said.out
    assert "Pins with white heads" in said.out
    assert "Needles and pins stay sharp inside soft work." in said.out


@pytest.mark.slow
def test_a_design_begins_a_class(terminal: Terminal, small: Path) -> None:
    said = terminal.run("class", small, "--students", 3, "--sessions", "60,90", "--json")
    told = json.loads(said.out)
    assert (told["students"], [session["minutes"] for session in told["sessions"]]) == (3, [60, 90])
    assert "--sessions" in terminal.refused("class", small, "--sessions", "an hour")
    assert "students" in terminal.refused("class", small, "--students", 0)


@pytest.mark.slow
def test_papers_are_written_whole(terminal: Terminal, tmp_path: Path) -> None:
    folder = tmp_path / "papers"  # made, as only it is missing
    said = terminal.run("class-papers", CLASS, "-o", folder, "--only", "kit-list, strips", "--paper", "letter")
    assert said.status == 0
    assert sorted(path.name for path in folder.iterdir()) == ["class-kit-list.pdf", "class-strips.pdf"]


def test_mistakes_are_one_sentence(terminal: Terminal, tmp_path: Path) -> None:
    assert "no such folder" in terminal.refused("class-papers", CLASS, "-o", tmp_path / "none" / "papers")
    assert "diploma" in terminal.refused("class-papers", CLASS, "-o", tmp_path, "--only", "diploma")
    lost = tmp_path / "lost.json"
    lost.write_text('{"format": 1, "title": "Lost"}', encoding="utf-8")
    assert "name the design's file" in terminal.refused("class", lost)
    lost.write_text('{"format": 1, "title": "Lost", "design": "gone.json"}', encoding="utf-8")
    assert "gone.json" in terminal.refused("class", lost)
