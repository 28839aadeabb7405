"""The pin survey on the command line: from the form to the moves."""

import csv
import json
import re
from pathlib import Path

from tests.cli.terminal import Terminal
from tests.test_summary import DOCS, keys

DESIGN = "examples/quay-lamps.json"


def test_a_form_filled_in_is_read_back(terminal: Terminal, tmp_path: Path) -> None:
    form = tmp_path / "pins.csv"
    assert terminal.run("survey-form", DESIGN, "-o", form).status == 0
    rows = list(csv.reader(form.read_text().splitlines()))
    filled = tmp_path / "filled.csv"
    with filled.open("w", newline="") as file:
        writer = csv.writer(file, delimiter=";")
        writer.writerow(rows[0])
        for row in rows[1:]:
            # The pin of obi 5 stands 3 mm nearer to N; the second reading of obi 9 was written down wrongly.
            off = {("N", "obi 5"): -3.0, ("S", "obi 5"): 3.0, ("S", "obi 9"): 10.0}.get((row[0], row[1]), 0.0)
            writer.writerow([row[0], row[1], f"{float(row[4]) + off:.1f}".replace(".", ","), "", ""])
    told = json.loads(terminal.run("survey", DESIGN, filled, "--json").out)
    assert [move["point"] for move in told["moves"]] == ["obi 5"]
    assert told["moves"][0]["parts"][0]["toward"] == "S"
    misread = {(one["first"], one["second"]) for one in told["readings"] if one["misread"]}
    assert misread
    assert misread <= {("S", "obi 9"), ("N", "obi 9")}
    said = " ".join(terminal.run("survey", DESIGN, filled).out.split())
    assert "Move the pin of obi 5 by 3 mm toward S" in said
    assert "count them before and after, and keep them from children" in said
    assert " -0.0 " not in said
    part = next(part for part in DOCS.read_text(encoding="utf-8").split("\n## ") if "survey DESIGN" in part)
    assert set(keys(told)) == set(re.findall(r"^\| `([^`]+)` \|", part, re.MULTILINE))


def test_mistakes_are_one_sentence(terminal: Terminal, tmp_path: Path) -> None:
    assert "there is no such file" in terminal.refused("survey", DESIGN, tmp_path / "none.csv")
    bad = tmp_path / "bad.csv"
    bad.write_text("from,to,mm\nN,obi 77,62\n")
    assert "line 2" in terminal.refused("survey", DESIGN, bad)
    bad.write_text("from,to,mm\nN,obi 7,62\n")
    assert "--off-by" in terminal.refused("survey", DESIGN, bad, "--off-by", "soon")


def test_sheets_are_written_beside(terminal: Terminal, tmp_path: Path) -> None:
    form, filled, sheet = tmp_path / "pins.pdf", tmp_path / "filled.csv", tmp_path / "survey.pdf"
    assert terminal.run("survey-form", DESIGN, "-o", form, "--paper", "letter").status == 0
    assert form.read_bytes().startswith(b"%PDF")
    filled.write_text("from,to,mm\nN,obi 7,62\nN,obi 3,60\nobi 3,obi 7,62\n")
    assert terminal.run("survey-sheet", DESIGN, filled, "-o", sheet).status == 0
    assert sheet.read_bytes().startswith(b"%PDF")
    assert "end its name in .pdf" in terminal.refused("survey-sheet", DESIGN, filled, "-o", tmp_path / "survey.doc")
    assert "end its name in .csv or .pdf" in terminal.refused("survey-form", DESIGN, "-o", tmp_path / "pins.xls")
    assert "no paper size" in terminal.refused("survey-form", DESIGN, "-o", form, "--paper", "a5")
