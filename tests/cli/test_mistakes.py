"""Every mistake gets one sentence with its place and its remedy, status 2, and leaves no half-written file."""

import errno
import json
import os
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from polestitch.cli.files import os_sentence, write_whole
from tests.cli.terminal import Terminal


def edited(design: Path, to: Path, **changes: Any) -> Path:
    """A copy of ``design`` with some of its parts replaced."""
    raw = json.loads(design.read_text(encoding="utf-8"))
    to.write_text(json.dumps({**raw, **changes}), encoding="utf-8")
    return to


@pytest.mark.parametrize(
    ("around", "says"),
    [
        ("0", "is no circumference"),
        ("0mm", "is not the size of a ball"),
        ("-3mm", "is no circumference"),
        ("nan", "is no circumference"),
        ("inf mm", "is no circumference"),
        ("10km", "is no circumference"),
        ("10000m", "is not the size of a ball"),
        ("247", "is no circumference"),
        ("247 parsec", "is no circumference"),
        ("1/3 from obi", "is no circumference"),
    ],
)
@pytest.mark.parametrize("command", ["marking", "work", "thread", "strip"])
def test_a_size_no_ball_has(terminal: Terminal, small: Path, command: str, around: str, says: str) -> None:
    strip: list[object] = ["S8", "-o", small.parent / "strip.pdf"]
    arguments: dict[str, list[object]] = {"marking": ["S8"], "work": [small], "thread": [small], "strip": strip}
    sentence = terminal.refused(command, *arguments[command], "--around", around)
    assert sentence.startswith("--around: ")
    assert says in sentence
    assert "from 30 mm to 3000 mm" in sentence


@pytest.mark.parametrize("division", ["S1", "S65", "C7", "C8+obi", "", "moon", "S99999999999", "13"])
@pytest.mark.parametrize("command", ["marking", "strip"])
def test_a_division_that_is_none(terminal: Terminal, tmp_path: Path, command: str, division: str) -> None:
    output = ["-o", tmp_path / "strip.pdf"] if command == "strip" else []
    assert terminal.refused(command, division, "--around", "300mm", *output).startswith("DIVISION: ")
    assert list(tmp_path.iterdir()) == []


def test_broken_json_is_told_with_file_line_and_column(terminal: Terminal, tmp_path: Path) -> None:
    path = tmp_path / "broken.json"
    path.write_text('{\n  "format": 1,,\n}', encoding="utf-8")
    assert terminal.refused("check", path).startswith(f"{path}: line 2, column 15: ")


@pytest.mark.parametrize(
    ("content", "says"),
    [(b"", "empty"), (b"\x89PNG\r\n\x1a\n\x00\x00", "not text in UTF-8"), (b" " * 50_000_000, "larger than 5 MB")],
)
def test_a_file_that_is_no_design(terminal: Terminal, tmp_path: Path, content: bytes, says: str) -> None:
    path = tmp_path / "strange.json"
    path.write_bytes(content)
    assert says in terminal.refused("work", path)


def test_a_missing_file_and_a_folder(terminal: Terminal, tmp_path: Path) -> None:
    assert terminal.refused("work", tmp_path / "none.json").endswith("none.json: there is no such file or folder")
    assert "is a folder" in terminal.refused("work", tmp_path)


@pytest.mark.parametrize(
    ("changes", "place", "says"),
    [
        ({"marking": {"division": "S1"}}, "marking.division", "S2"),
        ({"ball": {"around": "10 km"}}, "ball.around", "3000 mm"),
        ({"ball": {"around": "200 mm", "colour": "red"}}, "ball.colour", "#1d2b45"),
        ({"format": 2}, "format", "update Polestitch"),
    ],
)
def test_mistakes_in_a_design(terminal: Terminal, small: Path, changes: dict[str, Any], place: str, says: str) -> None:
    sentence = terminal.refused("work", edited(small, small, **changes))
    assert sentence.startswith(place)
    assert says in sentence


@pytest.mark.parametrize(
    ("key", "value", "says"),
    [
        ("technique", "polygone", "polygon"),
        ("where", "centre 99", "centre 99"),
        ("rows", "0 red", "0 rows"),
        ("rows", "1000000 red", "over 2000 rows"),
        ("rows", "2 rd", "did you mean red?"),
        ("params", {"cornrs": 5}, "corners"),
        ("params", {"corners": 5}, "corners"),
    ],
)
def test_mistakes_in_a_layer(terminal: Terminal, small: Path, key: str, value: Any, says: str) -> None:
    layer = json.loads(small.read_text(encoding="utf-8"))["layers"][0]
    sentence = terminal.refused("work", edited(small, small, layers=[{**layer, key: value}]))
    assert sentence.startswith("layers[0].")
    assert says in sentence


def test_an_unknown_technique_leaves_the_file_as_it_is(terminal: Terminal, small: Path) -> None:
    layer = json.loads(small.read_text(encoding="utf-8"))["layers"][0]
    path = edited(small, small, layers=[{**layer, "technique": "moon spiral"}])
    before = path.read_bytes()
    assert "uwagake" in terminal.refused("work", path)
    assert path.read_bytes() == before


@pytest.mark.parametrize("command", ["sheets", "picture"])
def test_an_output_that_cannot_be_written(terminal: Terminal, small: Path, command: str) -> None:
    name = {"sheets": "x.pdf", "picture": "x.png"}[command]
    folder = small.parent
    assert "there is no such folder" in terminal.refused(command, small, "-o", folder / "none" / name)
    assert "no such folder" in terminal.refused(command, small, "-o", small / name)
    (folder / name).mkdir()
    assert "is a folder" in terminal.refused(command, small, "-o", folder / name)
    assert sorted(path.name for path in folder.iterdir()) == sorted(["buoy.json", name])


def test_a_place_that_may_not_be_written(terminal: Terminal, small: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    # Root may write everywhere, and tests often run as root: so the system's answer is put in its mouth.
    monkeypatch.setattr(os, "access", lambda _path, mode: mode != os.W_OK)
    assert "may not be opened" in terminal.refused("picture", small, "-o", small.parent / "x.png")


def test_a_picture_of_no_kind_or_size(terminal: Terminal, small: Path) -> None:
    assert ".png or .svg" in terminal.refused("picture", small, "-o", small.parent / "x.jpg")
    assert "16 to 6000" in terminal.refused("picture", small, "-o", small.parent / "x.png", "--size", "0")
    assert "16 to 6000" in terminal.refused("picture", small, "-o", small.parent / "x.png", "--size", "1000000")
    assert "moon" in terminal.refused("picture", small, "-o", small.parent / "x.png", "--facing", "moon")
    assert "letter" in terminal.refused("sheets", small, "-o", small.parent / "x.pdf", "--paper", "a5")


def test_what_is_missing_on_the_command_line(terminal: Terminal) -> None:
    assert (
        terminal.refused("marking") == "Missing argument 'division'; polestitch marking --help tells what can be asked"
    )
    assert "--around" in terminal.refused("marking", "S8")
    assert "No such command 'fly'" in terminal.refused("fly")
    assert "No such option" in terminal.refused("work", "--fast")
    assert "design file" in terminal.refused("demo", "--examples", "/nowhere")


@pytest.mark.slow
@given(st.lists(st.text(st.characters(codec="utf-8", exclude_characters="\0"), max_size=12), max_size=4))
@settings(max_examples=15, suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_any_arguments_end_in_a_status(terminal: Terminal, arguments: list[str]) -> None:
    said = terminal.run("marking", *arguments)
    assert said.status in (0, 2)
    assert said.status == 0 or said.err.count("\n") == 1


def test_a_write_that_fails_is_told_of_the_file_she_named(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def full(self: Path, _: bytes) -> int:
        raise OSError(errno.ENOSPC, "No space left on device", str(self))

    monkeypatch.setattr(Path, "write_bytes", full)
    with pytest.raises(OSError, match="No space left") as caught:
        write_whole(tmp_path / "booklet.pdf", b"%PDF")
    assert os_sentence(caught.value) == f"{tmp_path / 'booklet.pdf'}: no space left on device"
    assert list(tmp_path.iterdir()) == []
