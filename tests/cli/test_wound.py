"""The base on the command line: plan, what comes of what she has, the sheet, and roundness of her ball."""

import json
from pathlib import Path

import pytest
from pypdf import PdfReader

from tests.cli.terminal import Terminal


def test_a_plan_for_a_design_goes_by_its_size_and_its_makers_needle(terminal: Terminal, small: Path) -> None:
    told = json.loads(terminal.run("winding", "--for", small, "--json").out)
    raw = json.loads(small.read_text(encoding="utf-8"))
    assert raw["ball"]["around"] in ("20 cm", "200 mm")
    assert (told["wanted_mm"], told["bite"]["dip_mm"], told["bite"]["holds"]) == (200, 1.0, True)


def test_what_comes_of_what_she_has_reads_well(terminal: Terminal) -> None:
    said = terminal.run("winding", "--core", "foam 190mm, bell, thick yarn 30 g, thin yarn 40 m, sewing thread 300 m")
    assert said.status == 0
    for words in ("It comes out", "a small bell", "stitches hold", "rules for toys"):
        assert words in " ".join(said.out.split())


def test_her_log_is_said_where_it_speaks(terminal: Terminal, tmp_path: Path) -> None:
    log = tmp_path / "wound.csv"
    log.write_bytes("Grams;Material;After (cm);Before (cm)\r\n31,5;thick yarn;21,5;18\r\n;;;\r\n".encode("utf-16"))
    said = terminal.run("winding", "--around", "25cm", "--log", log)
    assert "One of your balls speaks here" in " ".join(said.out.split())


@pytest.mark.slow
def test_the_sheet_is_written_on_the_paper_asked_for(terminal: Terminal, tmp_path: Path) -> None:
    made = tmp_path / "winding.pdf"
    assert terminal.run("winding-sheet", "--around", "25cm", "--paper", "letter", "-o", made).status == 0
    assert float(PdfReader(made).pages[0].mediabox.height) == pytest.approx(792)


@pytest.mark.slow
def test_roundness_of_a_ball_given_or_kept_in_the_design(terminal: Terminal, small: Path) -> None:
    given = ("--over-poles", "206 200mm;20,3cm", "--obi", "196mm")
    told = json.loads(terminal.run("roundness", small, *given, "--json").out)
    assert told["readings"] == {"pole_to_pole_mm": [206, 200, 203], "obi_mm": [196]}
    raw = json.loads(small.read_text(encoding="utf-8"))
    raw["ball"]["measured"] = {"pole_to_pole": ["206 mm", "200 mm", "203 mm"], "obi": ["196 mm"]}
    small.write_text(json.dumps(raw), encoding="utf-8")
    assert json.loads(terminal.run("roundness", small, "--json").out) == told
    assert "Radius by place" in terminal.run("roundness", small).out


@pytest.mark.parametrize(
    ("words", "part"),
    [
        (("winding",), "say how large the core is"),
        (("winding", "--around", "huge"), "--around"),
        (("winding", "--around", "25cm", "--core", "lead"), "--core"),
        (("winding-sheet", "--around", "25cm", "--paper", "a9", "-o", "x.pdf"), "a4 or letter"),
        (("winding-sheet", "-o", "x.pdf"), "say how large the core is"),
    ],
)
def test_mistakes_are_told_in_one_sentence(terminal: Terminal, words: tuple[str, ...], part: str) -> None:
    said = terminal.run(*words)
    assert said.status == 2
    assert part in said.err
    assert said.err.count("\n") == 1


@pytest.mark.parametrize("option", ["--over-poles", "--obi", "--off-by"])
def test_readings_that_are_none_are_told(terminal: Terminal, small: Path, option: str) -> None:
    said = terminal.run("roundness", small, "--obi", "20cm", option, "wide")
    assert (said.status, option in said.err) == (2, True)


def test_nothing_measured_is_told(terminal: Terminal, small: Path) -> None:
    assert "measure round the ball first" in terminal.run("roundness", small).err


@pytest.mark.parametrize("words", ["25x", "25.5.5mm", "1/0", "."])
@pytest.mark.parametrize("option", ["--over-poles", "--obi"])
def test_a_reading_that_is_no_length_is_told_where_it_was_written(
    terminal: Terminal, small: Path, option: str, words: str
) -> None:
    said = terminal.run("roundness", small, option, words)
    assert said.status == 2
    assert said.err.startswith(f"{option}: ")
    assert "Traceback" not in said.err


def test_a_ball_too_small_for_a_core_is_told_in_a_sentence(terminal: Terminal) -> None:
    said = terminal.run("winding", "--around", "3cm")
    assert said.status == 2
    assert "leave no core in a ball 30 mm round" in " ".join(said.err.split())
