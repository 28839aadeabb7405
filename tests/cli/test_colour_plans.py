"""Colour plans on the command line."""

import json
import re
from pathlib import Path

from tests.builds import THREADS, document
from tests.cli.terminal import Terminal
from tests.test_summary import DOCS, keys


def test_the_command_tells_plans_and_mistakes(terminal: Terminal, tmp_path: Path) -> None:
    file = tmp_path / "panes.json"
    layer = {
        "technique": "polygon",
        "where": "all centres",
        "rows": "1 navy",
        "params": {"at": "15 mm"},
        "name": "panes",
    }
    green = {"name": "green", "colour": "#2f6b3a", "rows_per_cm": 14}
    file.write_text(json.dumps(document(layer, division="C8", threads=[*THREADS, green], format=1)))
    asked = ("colour-plans", file, "--layer", "panes", "--threads")
    told = json.loads(terminal.run(*asked, "navy, white, green", "--json").out)
    assert told["different"] == 1
    assert {frozenset(thread["where"]) for thread in told["plans"][0]["threads"]} >= {frozenset({"N", "S"})}
    part = next(part for part in DOCS.read_text(encoding="utf-8").split("\n## ") if "colour-plans" in part)
    assert set(keys(told)) == set(re.findall(r"^\| `([^`]+)` \|", part, re.MULTILINE))
    assert "N, S" in terminal.run(*asked, "navy 2, white, green").out
    assert "lead" in terminal.refused(*asked, "navy, lead")
    assert "panes" in terminal.refused("colour-plans", file, "--layer", "bars", "--threads", "navy")
