"""What she made is never written over by a slip of the hand, and a file is called by what it should be."""

from pathlib import Path

import pytest

from tests.cli.terminal import Terminal

FILLED = "from,to,mm\nN,S,78.5\n"


def test_a_table_she_filled_in_stays(terminal: Terminal, small: Path, tmp_path: Path) -> None:
    readings = tmp_path / "readings.csv"
    readings.write_text(FILLED, encoding="utf-8")
    assert "stays as it is" in terminal.refused("survey-form", small, "-o", readings)
    assert readings.read_text(encoding="utf-8") == FILLED


@pytest.mark.parametrize(
    ("command", "options"),
    [
        ("record", ("--number", "HL-01")),
        ("recolour", ("plans.json",)),
    ],
)
def test_a_design_stays_where_a_document_is_written(
    terminal: Terminal, small: Path, command: str, options: tuple[str, ...]
) -> None:
    before = small.read_bytes()
    assert "stays as it is" in terminal.refused(command, small, *options, "-o", small)
    assert small.read_bytes() == before


@pytest.mark.parametrize(
    ("command", "options"),
    [
        ("price", ("--costs", "costs.json")),
        ("winding-sheet", ("--around", "25cm")),
        ("survey-sheet", ("readings.csv",)),
    ],
)
def test_a_sheet_goes_into_no_design(terminal: Terminal, small: Path, command: str, options: tuple[str, ...]) -> None:
    before = small.read_bytes()
    first = () if command == "winding-sheet" else (small,)
    assert "end its name in .pdf" in terminal.refused(command, *first, *options, "-o", small)
    assert small.read_bytes() == before


@pytest.mark.parametrize(
    ("words", "noun"),
    [
        (("show", "WRONG"), "show"),
        (("class", "WRONG"), "class"),
        (("price", "DESIGN", "--costs", "WRONG"), "file of costs"),
        (("recolour", "DESIGN", "WRONG", "-o", "new.json"), "file of plans"),
        (("hours", "WRONG"), "design"),
    ],
)
def test_a_file_is_called_what_it_should_be(
    terminal: Terminal, small: Path, tmp_path: Path, words: tuple[str, ...], noun: str
) -> None:
    wrong = tmp_path / "wrong.json"
    wrong.write_text("[1]", encoding="utf-8")
    stand_in = {"WRONG": wrong, "DESIGN": small}
    said = terminal.refused(*(stand_in.get(word, word) for word in words))
    assert f"is no {noun}; a {noun} is one group in curly brackets" in said


def test_options_are_named_not_places_in_a_document(terminal: Terminal, small: Path) -> None:
    assert terminal.refused("winding").startswith("--core: say how large the core is")
    uneven = terminal.refused("roundness", small, "--over-poles", "250mm 249mm 600mm")
    assert uneven.startswith("--over-poles, --obi: 600 mm and 249 mm cannot both be")


def test_an_empty_cell_of_a_log_is_told(terminal: Terminal, tmp_path: Path) -> None:
    log = tmp_path / "log.csv"
    log.write_text("material;before;after;grams;metres\nthin yarn;;;;\n", encoding="utf-8")
    assert "line 2, before: is empty" in terminal.refused("winding", "--around", "25cm", "--log", log)
