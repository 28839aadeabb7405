"""Hours and prices on the command line."""

import json
import re
from collections.abc import Iterable
from pathlib import Path
from typing import Any

import pytest

from tests.cli.terminal import Terminal
from tests.test_summary import DOCS, keys

COSTS: dict[str, Any] = {
    "rate": "18 EUR",
    "threads": [{"name": "red", "price": "2.40 EUR", "skein": "25 yd"}],
    "base": {"packs": [{"name": "thick yarn", "price": "4.50 EUR", "grams": 50}]},
    "items": [{"name": "box", "cost": "3 EUR"}],
    "overhead": {"percent": 10},
    "commission": 40,
    "step": "5 EUR",
    "tax": {"percent": 20},
    "shop_factor": 2,
    "at": "90 EUR",
}


def written(path: Path, **changes: Any) -> Path:
    path.write_text(json.dumps({**COSTS, **changes}), encoding="utf-8")
    return path


def documented(command: str) -> set[str]:
    part = next(part for part in DOCS.read_text(encoding="utf-8").split("\n## ") if part.startswith(f"`{command}"))
    return set(re.findall(r"^\| `([^`]+)` \|", part, re.MULTILINE))


def without(told: dict[str, Any], *names: str) -> Iterable[str]:
    return keys({name: value if name not in names else None for name, value in told.items()})


def test_every_key_of_a_price_is_in_the_docs(terminal: Terminal, small: Path, tmp_path: Path) -> None:
    told = json.loads(terminal.run("price", small, "--costs", written(tmp_path / "costs.json"), "--json").out)
    assert set(without(told, "hours")) == documented("polestitch price")
    assert set(keys(told["hours"])) | {"name", "around_mm"} == documented("polestitch hours")


def test_her_sittings_narrow_the_hours(terminal: Terminal, small: Path, tmp_path: Path) -> None:
    table = tmp_path / "sittings.csv"
    rows = [f"{k};1,5;{small.name};50" for k in range(12)]
    table.write_text("piece;hours;design;part\r\n" + "\r\n".join(rows), encoding="utf-16")
    table_of = small.parent / "sittings.csv"
    assert table == table_of
    told = json.loads(terminal.run("hours", small, "--sittings", table, "--json").out)
    assert told["sittings"] == 12
    assert told["high"] / told["low"] < told["without_sittings"]["high"] / told["without_sittings"]["low"]
    assert "From 12 sittings of 12 pieces, 18.0 hours" in terminal.run("hours", small, "--sittings", table).out


def test_a_price_reads_well_and_becomes_a_page(terminal: Terminal, small: Path, tmp_path: Path) -> None:
    page = tmp_path / "price.pdf"
    said = terminal.run("price", small, "--costs", written(tmp_path / "costs.json"), "-o", page)
    assert said.status == 0
    assert page.read_bytes().startswith(b"%PDF")
    for words in ("Commission, 40 % of the price", "Price in EUR", "by your own figure", "an hour are left"):
        assert words in " ".join(said.out.split())
    assert not re.search(r"\b(fair|worth|too|cheap|expensive|should|deserve)\b", said.out)


def test_the_schema_is_that_of_the_costs(terminal: Terminal) -> None:
    assert json.loads(terminal.run("costs-schema").out)["required"] == ["rate"]


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ({"commission": 100}, "commission: takes the whole price"),
        ({"rate": "20 crowns"}, "rate: "),
        ({"items": [{"name": "box", "cost": "4 USD"}]}, "items[0].cost: is in USD"),
        ({"base": {"core": "stone"}}, "base.core: "),
    ],
)
def test_mistakes_in_the_costs(
    terminal: Terminal, small: Path, tmp_path: Path, changes: dict[str, Any], words: str
) -> None:
    assert words in terminal.refused("price", small, "--costs", written(tmp_path / "costs.json", **changes))


def test_mistakes_in_the_sittings(terminal: Terminal, small: Path, tmp_path: Path) -> None:
    table = tmp_path / "sittings.csv"
    table.write_text("hours,design\n2,nowhere.json\n")
    assert "line 2, design: there is no design file" in terminal.refused("hours", small, "--sittings", table)
    table.write_text("hours,stitches\n2,9\n")
    assert '"stitches" is no column' in terminal.refused("hours", small, "--sittings", table)


@pytest.mark.slow
def test_the_lights_of_the_harbour_are_priced(terminal: Terminal, design: Path, tmp_path: Path) -> None:
    """The invented show's own costs and sittings: every thread and material has a price there."""
    show, page = design.parent / "harbour-lights", tmp_path / "page.pdf"
    files = ("--costs", show / "costs.json", "--sittings", show / "sittings.csv")
    told = json.loads(terminal.run("price", design, *files, "-o", page, "--json").out)
    assert told["price"]["not_counted"] == []
    assert (told["hours"]["sittings"], told["hours"]["pieces"], told["hours"]["left_out"]) == (7, 3, 0)
    assert told["hours"]["high"] < told["hours"]["without_sittings"]["high"]
    assert page.read_bytes().startswith(b"%PDF")
