"""Colour plans on the command line."""

import json
import re
from pathlib import Path
from typing import Any

import pytest
from PIL import Image

from tests.builds import THREADS, document
from tests.cli.terminal import Terminal
from tests.test_summary import DOCS, keys

PANES = {"technique": "polygon", "where": "all centres", "rows": "2 navy, 1 white", "params": {"at": "15 mm"}}
ASKED = ("colour-plans", "--layer", "panes", "--threads", "navy, white, green")
GREEN = {"name": "green", "colour": "#2f6b3a", "rows_per_cm": 14}


@pytest.fixture
def panes(tmp_path: Path) -> Path:
    file = tmp_path / "panes.json"
    file.write_text(
        json.dumps(document({**PANES, "name": "panes"}, division="C8", threads=[*THREADS, GREEN], format=1))
    )
    return file


def documented(command: str) -> set[str]:
    part = next(part for part in DOCS.read_text(encoding="utf-8").split("\n## ") if command in part.splitlines()[0])
    return set(re.findall(r"^\| `([^`]+)` \|", part, re.MULTILINE))


def told(terminal: Terminal, *words: Any) -> dict[str, Any]:
    return dict(json.loads(terminal.run(*words, "--json").out))


def test_the_command_tells_plans_and_mistakes(terminal: Terminal, panes: Path) -> None:
    asked = ("colour-plans", panes, "--layer", "panes", "--threads")
    found = told(terminal, *asked, "navy 2, white, green")
    assert found["different"] == 1
    assert {frozenset(thread["where"]) for thread in found["plans"][0]["threads"]} >= {frozenset({"N", "S"})}
    assert set(keys(found)) == documented("polestitch colour-plans")
    assert "N, S" in terminal.run(*asked, "navy 2, white, green").out
    assert "lead" in terminal.refused(*asked, "navy, lead")
    assert "panes" in terminal.refused("colour-plans", panes, "--layer", "bars", "--threads", "navy")
    assert terminal.refused(*asked, " , ").startswith("--threads: names no thread")
    assert terminal.refused(*asked, "lead " * 20).startswith("--threads: ")
    assert terminal.refused(*asked, "navy", "--rules", "opposite same, opposite differ").startswith("--rules: ")
    assert "is no rule" in terminal.refused(*asked, "navy, white, green", "--rules", "tidy")


def test_words_of_the_rules_are_kept(terminal: Terminal, panes: Path) -> None:
    threads = ("--threads", "navy 1+, green 1-3, white", "--rules")
    free = told(terminal, "colour-plans", panes, "--layer", "panes", *threads, "neighbours may match, mirrors are one")
    assert (free["turns"], free["mirrors"]) == (48, True)
    assert free["asked"]["threads"][1] == {"name": "green", "least": 1, "most": 3}
    swapped = told(terminal, "colour-plans", panes, "--layer", "panes", *threads, "instead of white, opposite same")
    assert swapped["different"] == 1
    graded = told(terminal, "colour-plans", panes, "--layer", "rows of panes", *threads, "graded")
    assert graded["plans"][0]["name"] == "dark to light"


def test_a_plan_becomes_a_design_and_all_become_pictures(terminal: Terminal, panes: Path, tmp_path: Path) -> None:
    plans, new, sheet = tmp_path / "plans.json", tmp_path / "new.json", tmp_path / "sheet.png"
    plans.write_text(terminal.run(*ASKED, panes, "--json").out)
    assert "only the colours are new" in terminal.run("recolour", panes, plans, "--plan", "1", "-o", new).out
    layers = json.loads(new.read_text())["layers"]
    assert {layer["rows"] for layer in layers} == {"2 navy, 1 white", "3 white", "2 green, 1 white"}
    terminal.run("recolour", panes, plans, "-o", sheet)
    with Image.open(sheet) as picture:
        assert picture.size == (480, 270)
    assert "there is no plan 9" in terminal.refused(
        "recolour", panes, plans, "--plan", "9", "-o", tmp_path / "nine.json"
    )
    assert "holds no colour plans" in terminal.refused("recolour", panes, panes, "-o", tmp_path / "nine.json")
    assert ".json" in terminal.refused("recolour", panes, plans, "-o", tmp_path / "new.txt")


@pytest.mark.slow
def test_plans_go_on_paper(terminal: Terminal, panes: Path, tmp_path: Path) -> None:
    from pypdf import PdfReader

    plans, paper = tmp_path / "plans.json", tmp_path / "plans.pdf"
    plans.write_text(terminal.run(*ASKED, panes, "--json").out)
    terminal.run("recolour", panes, plans, "-o", paper, "--paper", "letter")
    (page,) = PdfReader(paper).pages
    assert [round(float(side)) for side in page.mediabox[2:]] == [612, 792]
    words = " ".join(page.extract_text().split())
    assert "Colour plans" in words
    assert "navy: N, S" in words
    assert len(page.images) == 2


def test_shades_are_told_with_the_nearest_thread(terminal: Terminal, panes: Path) -> None:
    found = told(terminal, "shades", "#1d2b5a #f4f1ea", "--count", "3", "--design", panes)
    assert [shade["nearest"]["name"] for shade in found["shades"]][::2] == ["navy", "white"]
    assert set(keys(found)) == documented("polestitch shades")
    assert "#1d2b5a" in terminal.run("shades", "#1d2b5a #f4f1ea").out
    assert "one colour or two" in terminal.refused("shades", "#111111 #222222 #333333")
    assert "not a colour" in terminal.refused("shades", "blue")
