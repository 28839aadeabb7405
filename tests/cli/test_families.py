"""Listing the families of patterns, and beginning a design from one."""

import json
import re
from pathlib import Path

import pytest

from polestitch.document.codec import read
from polestitch.families.family import KINDS, family_names
from tests.cli.terminal import Terminal

DOCS = Path(__file__).parents[2] / "docs" / "json.md"


def told_keys(command: str) -> set[str]:
    part = DOCS.read_text(encoding="utf-8").split(f"\n## `polestitch {command}", 1)[1].split("\n## ")[0]
    return set(re.findall(r"^\| `([^`]+)`", part, re.MULTILINE))


def test_families_lists_every_one(terminal: Terminal) -> None:
    said = terminal.run("families")
    assert said.status == 0
    for name in family_names():
        assert re.search(rf"^ {re.escape(name)} ", said.out, re.MULTILINE), name


def test_families_as_json_keep_their_promise(terminal: Terminal) -> None:
    payload = json.loads(terminal.run("families", "--json").out)
    assert len(payload["families"]) == len(family_names())
    keys = {"families", *(f"families[].{key}" for key in payload["families"][0])}
    assert keys == told_keys("families")


@pytest.mark.parametrize("kind", KINDS)
def test_families_of_one_kind(terminal: Terminal, kind: str) -> None:
    payload = json.loads(terminal.run("families", "--kind", kind, "--json").out)
    assert {one["kind"] for one in payload["families"]} <= {kind}


def test_new_writes_a_design_for_her_ball(terminal: Terminal, tmp_path: Path) -> None:
    path = tmp_path / "mine.json"
    said = terminal.run("new", "chrysanthemum", "--around", "30 cm", "--division", "S12+obi", "-o", path)
    assert said.status == 0
    assert "Chrysanthemum (kiku) on S12+obi, 30 cm round" in said.out
    design = read(path.read_bytes())
    assert design.ball.around.mm == pytest.approx(300)
    assert design.marking.division == "S12+obi"
    assert terminal.run("check", path).status == 0


def test_new_as_json_keeps_its_promise(terminal: Terminal, tmp_path: Path) -> None:
    path = tmp_path / "mine.json"
    payload = json.loads(terminal.run("new", "chrysanthemum", "-o", path, "--json").out)
    assert set(payload) == told_keys("new")
    assert payload["file"] == str(path)


def test_new_takes_the_familys_name_for_the_file(
    terminal: Terminal, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    assert terminal.run("new", "chrysanthemum").status == 0
    assert (tmp_path / "chrysanthemum.json").is_file()


def test_new_never_writes_over_a_design(terminal: Terminal, tmp_path: Path) -> None:
    path = tmp_path / "mine.json"
    path.write_text("hers", encoding="utf-8")
    assert "name another file" in terminal.refused("new", "chrysanthemum", "-o", path)
    assert path.read_text(encoding="utf-8") == "hers"


@pytest.mark.parametrize(
    ("arguments", "sentence"),
    [
        (("new", "chrysantemum"), "did you mean chrysanthemum"),
        (("new", "chrysanthemum", "--division", "S3"), "works on S16+obi"),
        (("new", "chrysanthemum", "--around", "3 parsecs"), "--around:"),
        (("families", "--kind", "flower"), 'did you mean "flowers"?'),
    ],
)
def test_a_mistake_is_one_sentence(
    terminal: Terminal, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, arguments: tuple[str, ...], sentence: str
) -> None:
    monkeypatch.chdir(tmp_path)
    assert sentence in terminal.refused(*arguments)
    assert list(tmp_path.iterdir()) == []
