"""``fit``, ``replan`` and ``sizes`` as a maker runs them, and every key they print."""

import json
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from tests.cli.terminal import Terminal

ROOT = Path(__file__).parents[2]
LAMPS, PANS = ROOT / "examples" / "quay-lamps.json", ROOT / "examples" / "salt-squares.json"


@pytest.fixture
def terminal(capsys: pytest.CaptureFixture[str]) -> Terminal:
    return Terminal(capsys)


def keys(value: Any, path: str = "") -> Iterator[str]:
    """Dotted paths of all keys but those of the design itself."""
    if isinstance(value, dict) and not path.startswith("document"):
        for key, inner in value.items():
            yield path + key
            yield from keys(inner, f"{path}{key}.")
    elif isinstance(value, list):
        for inner in value:
            yield from keys(inner, path[:-1] + "[].")


def told(command: str) -> set[str]:
    parts = (ROOT / "docs" / "json.md").read_text(encoding="utf-8").split("\n## ")
    part = next(part for part in parts if part.startswith(f"`polestitch {command} "))
    return set(re.findall(r"^\| `([^`]+)`", part, re.MULTILINE))


@pytest.mark.slow
@pytest.mark.parametrize(
    "command",
    [
        ("fit", LAMPS, "--wish", "amber petals: reach 5 mm from obi"),
        ("replan", LAMPS, "--around", "300mm"),
        ("sizes", LAMPS),
    ],
    ids=lambda command: command[0],
)
def test_the_docs_name_every_key_and_no_other(terminal: Terminal, command: tuple[object, ...]) -> None:
    said = terminal.run(*command, "--json")
    assert said.status == 0
    assert told(str(command[0])) == set(keys(json.loads(said.out)))


def test_the_changed_design_is_written_and_can_be_checked(terminal: Terminal, tmp_path: Path) -> None:
    path = tmp_path / "mine.json"
    said = terminal.run("replan", LAMPS, "--around", "300mm", "-o", path)
    assert said.status == 0
    assert "quay: 6 rows become 7" in said.out
    assert json.loads(path.read_text(encoding="utf-8"))["ball"]["around"] == "30 cm"
    assert terminal.run("check", path).status == 0


@pytest.mark.parametrize(
    ("words", "says"),
    [
        (("--wish", "salt pans: gapp"), '--wish: "gapp" cannot be read'),
        (("--wish", "meet"), "must begin with a layer and a colon"),
        (("--wish", "salt pans: meet", "--change", "luck"), '--change: "luck" cannot change'),
        (("--wish", "salt pans: meet", "--change", "rows", "--change", "start"), "once for each --wish"),
    ],
)
def test_words_that_cannot_be_read_get_one_sentence(terminal: Terminal, words: tuple[str, ...], says: str) -> None:
    assert says in terminal.refused("fit", PANS, *words)
