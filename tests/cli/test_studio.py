"""The command that opens the studio: one address, one sentence for each mistake, quiet at the end."""

import signal
import socket
import sqlite3
import subprocess
import sys
import urllib.request
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest

from polestitch.cli.app import exit_status

LINE = [sys.executable, "-c", "from polestitch.cli import main; main()", "studio", "--no-browser"]


@contextmanager
def running(folder: Path) -> Iterator[tuple[subprocess.Popen[str], str]]:
    line, pipe = [*LINE, "--data", str(folder)], subprocess.PIPE
    with subprocess.Popen(line, text=True, stdout=pipe, stderr=pipe) as process:
        assert process.stdout is not None
        yield process, process.stdout.readline().removeprefix("The studio is open at ").strip()
        process.kill()


@pytest.mark.slow
def test_it_opens_answers_and_ends_quietly(tmp_path: Path) -> None:
    with running(tmp_path / "new" / "folder") as (process, address):
        with urllib.request.urlopen(f"{address}api/health") as answer:
            assert answer.status == 200
        process.send_signal(signal.SIGINT)
        _, errors = process.communicate(timeout=20)
    assert process.returncode in (0, 130)
    assert errors == ""


@pytest.mark.slow
def test_it_listens_to_this_machine_alone(tmp_path: Path) -> None:
    with running(tmp_path) as (process, address):
        port = int(address.rstrip("/").rpartition(":")[2])
        listening = subprocess.run(["cat", f"/proc/{process.pid}/net/tcp"], capture_output=True, text=True, check=True)
        local = [line.split()[1] for line in listening.stdout.splitlines()[1:] if line.split()[3] == "0A"]
        assert [where for where in local if where.endswith(f":{port:04X}")] == [f"0100007F:{port:04X}"]


@pytest.mark.slow
def test_the_second_studio_of_a_folder_is_told_where_the_first_is(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    with running(tmp_path) as (_, address):
        assert exit_status(["studio", "--no-browser", "--data", str(tmp_path)]) == 2
    assert capsys.readouterr().err == f"{tmp_path}: another studio is working in this folder; it is open at {address}\n"


def test_a_port_in_use_is_said(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    with socket.create_server(("127.0.0.1", 0)) as taken:
        port = str(taken.getsockname()[1])
        assert exit_status(["studio", "--no-browser", "--data", str(tmp_path), "--port", port]) == 2
    assert "is in use; name another" in capsys.readouterr().err


@pytest.mark.parametrize("port", ["0", "-1", "65536"])
def test_a_port_that_is_none_is_said(tmp_path: Path, capsys: pytest.CaptureFixture[str], port: str) -> None:
    assert exit_status(["studio", "--no-browser", "--data", str(tmp_path), "--port", port]) == 2
    assert "is no port" in capsys.readouterr().err
    assert list(tmp_path.iterdir()) == []


def test_a_strange_database_is_refused_in_one_sentence(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / "studio.db"
    raw = sqlite3.connect(path)
    raw.execute("CREATE TABLE letters (text)")
    raw.close()
    before = path.read_bytes()
    assert exit_status(["studio", "--no-browser", "--data", str(tmp_path)]) == 2
    told = capsys.readouterr().err
    assert told.count("\n") == 1
    assert "another program" in told
    assert path.read_bytes() == before


def test_a_file_where_the_folder_should_be_is_said(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (tmp_path / "file").write_text("")
    assert exit_status(["studio", "--no-browser", "--data", str(tmp_path / "file")]) == 2
    assert capsys.readouterr().err.count("\n") == 1
