"""The sampler and what is made of it, on the command line."""

import io
import json
from pathlib import Path

import pdfplumber
import pytest

from polestitch.document.codec import read
from polestitch.hand import sampled
from polestitch.sheets.sampler_page import sampler_pdf, sampler_table
from tests.cli.terminal import Terminal

READ = {"square": "2.6", "point": "4.7", "bite": "1.4", "dip": "1.2"}


def filled() -> bytes:
    """The empty table as a maker fills it in."""
    head, *lines = sampler_table().decode("utf-8-sig").split("\r\n")
    return "\r\n".join([head, *(line + READ[line.split(",")[0]] for line in lines if line)]).encode("utf-8-sig")


def test_the_empty_table_filled_in_is_read_back_whole() -> None:
    found = sampled(filled(), "sampler.csv")
    assert [one.what for one in found.readings] == ["square"] * 4 + ["point"] * 2 + ["bite", "dip"]


def test_the_sheet_has_a_blank_for_every_line_of_the_table_on_one_page() -> None:
    with pdfplumber.open(io.BytesIO(sampler_pdf())) as document:
        (page,) = document.pages
        words = page.extract_text()
    lines = sampler_table().decode("utf-8-sig").splitlines()[1:]
    for what in READ:
        assert sum(line.startswith(f"{what} ") for line in words.splitlines()) == sum(
            line.startswith(what) for line in lines
        )
    assert "needles are sharp" in words


def test_measures_go_into_a_design_and_the_ball_is_drawn_with_them(
    terminal: Terminal, small: Path, tmp_path: Path
) -> None:
    readings, mine = tmp_path / "sampler.csv", tmp_path / "mine.json"
    readings.write_bytes(filled())
    told = json.loads(terminal.run("hand", readings, "--for", small, "-o", mine, "--json").out)
    design = read(mine.read_text(encoding="utf-8"))
    assert design.maker.measures is not None
    assert str(design.maker.measures.pitch["pearl 5"].length) == told["measures"]["pitch"]["pearl 5"]["length"]
    before, after = (json.loads(terminal.run("work", path, "--json").out) for path in (small, mine))
    assert after["layers"][0]["laid_mm"]["red"] > before["layers"][0]["laid_mm"]["red"]
    assert "stays as it is" in terminal.refused("hand", readings, "--for", small, "-o", mine)


@pytest.mark.parametrize(
    ("lines", "says"),
    [
        ("what,thread,rows,mm\n", "nothing measured"),
        ("a,b\n", "no column"),
        ("what,thread,rows,mm\nsquare,x,3,2\n", "no size"),
    ],
)
def test_mistakes_are_sentences(terminal: Terminal, tmp_path: Path, lines: str, says: str) -> None:
    readings = tmp_path / "sampler.csv"
    readings.write_text(lines, encoding="utf-8")
    assert says in terminal.refused("hand", readings)


def test_a_design_to_write_to_needs_one_to_start_from(terminal: Terminal, tmp_path: Path) -> None:
    readings = tmp_path / "sampler.csv"
    readings.write_bytes(filled())
    assert "--for" in terminal.refused("hand", readings, "-o", tmp_path / "new.json")
