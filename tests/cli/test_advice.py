"""Marking advice on the command line."""

import json

from tests.cli.terminal import Terminal


def test_advice_is_told_as_a_table_and_as_json(terminal: Terminal) -> None:
    said = terminal.run("marking", "C10", "--around", "30cm", "--advice").out
    assert "from S4" in said
    payload = json.loads(terminal.run("marking", "C10", "--around", "30cm", "--advice", "--json").out)
    worst = [order["worst_mm"] for order in payload["orders"]]
    assert worst == sorted(worst)
    assert payload["off_by_mm"] == 0.5


def test_an_error_that_no_pin_has_is_refused(terminal: Terminal) -> None:
    for text in ("0mm", "2 cm", "soon"):
        said = terminal.run("marking", "C8", "--around", "30cm", "--advice", "--off-by", text)
        assert said.status == 2
        assert "--off-by" in said.err
