"""A file is either the old one or the new one."""

import os
from pathlib import Path

import pytest

from polestitch.cli.files import os_sentence, write_whole


def test_a_file_is_written_whole(tmp_path: Path) -> None:
    path = tmp_path / "ball.svg"
    write_whole(path, "<svg>手まり</svg>")
    write_whole(path, b"new")
    assert path.read_bytes() == b"new"
    assert list(tmp_path.iterdir()) == [path]


def test_a_write_that_fails_leaves_the_old_file(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = tmp_path / "ball.svg"
    path.write_text("old", encoding="utf-8")

    def full(self: Path, _data: bytes) -> int:
        with self.open("wb") as file:
            file.write(b"ha")
        raise OSError(28, "No space left on device", str(self))

    monkeypatch.setattr(Path, "write_bytes", full)
    with pytest.raises(OSError, match="No space left"):
        write_whole(path, b"half of it")
    assert path.read_text(encoding="utf-8") == "old"
    assert list(tmp_path.iterdir()) == [path]


def test_a_link_stays_a_link(tmp_path: Path) -> None:
    path, link = tmp_path / "ball.svg", tmp_path / "link.svg"
    path.write_text("old", encoding="utf-8")
    link.symlink_to(path)
    write_whole(link, "new")
    assert link.is_symlink()
    assert path.read_text(encoding="utf-8") == "new"


def test_a_device_is_written_to_and_not_replaced() -> None:
    write_whole(Path(os.devnull), b"x" * 100)
    assert not Path(os.devnull).is_file()


def test_what_the_system_says_is_said_with_the_file_s_name() -> None:
    assert os_sentence(FileNotFoundError(2, "x", "a.json")) == "a.json: there is no such file or folder"
    assert os_sentence(OSError(28, "No space left on device", "a.pdf")) == "a.pdf: no space left on device"
    assert os_sentence(OSError("odd")) == "the output: odd"
