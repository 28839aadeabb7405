"""Killed in mid-edit two hundred times: every change that was acknowledged is there, and nothing is torn.

Each server is this very app in a process of its own, killed with SIGKILL at a moment of chance (seeded) while
changes are on their way.  It works on the same folder all the time, as her studio does.
"""

import http.client
import json
import multiprocessing
import random
import signal
import socket
import sqlite3
import subprocess
import sys
import threading
from collections.abc import Callable
from functools import partial
from multiprocessing.connection import Connection
from pathlib import Path
from typing import Any
from uuid import uuid4

import pytest

from polestitch.store.database import refuse_unsound
from polestitch.store.designs import Change, add_design, document, revisions, saved
from polestitch.store.store import opened
from polestitch.studio.app import application
from polestitch.studio.studio import studio_of

Raw = dict[str, Any]
KILLS = 200
# Forked from a process that has everything imported: a server is there in a tenth of the time.
FORKS = multiprocessing.get_context("forkserver")


def serving(folder: Path, wire: Connection) -> None:
    """A whole server, which tells its port."""
    import uvicorn

    listening = socket.create_server(("127.0.0.1", 0))
    config = uvicorn.Config(application(studio_of(opened(folder))), log_level="critical")
    wire.send(listening.getsockname()[1])
    uvicorn.Server(config).run(sockets=[listening])


@pytest.mark.slow
def test_two_hundred_kills_lose_no_acknowledged_change(tmp_path: Path, bare: Raw) -> None:
    FORKS.set_forkserver_preload(["tests.studio.test_kill", "uvicorn.protocols.http.auto", "uvicorn.loops.auto"])
    chance = random.Random(8)
    store = opened(tmp_path)
    design = add_design(store, bare).id
    store.close()
    acknowledged = {1: ""}
    for kill in range(1, KILLS + 1):
        near, far = FORKS.Pipe()
        server = FORKS.Process(target=serving, args=(tmp_path, far))
        server.start()
        port = near.recv()
        for end in (near, far):
            end.close()
        _edit(port, design, bare, acknowledged, partial(_killed_soon, server, chance.uniform(0.0, 0.04)))
        server.join()
        assert server.exitcode == -signal.SIGKILL
        server.close()
        if kill % 20 == 0:
            _all_there(tmp_path, design, acknowledged)
    assert len(acknowledged) > KILLS


def _killed_soon(server: Any, seconds: float) -> threading.Timer:
    timer = threading.Timer(seconds, server.kill)
    timer.start()
    return timer


def _edit(
    port: int, design: str, bare: Raw, acknowledged: dict[int, str], killed: Callable[[], threading.Timer]
) -> None:
    """Write until the server is gone; ``acknowledged`` gets what it said it kept."""
    wire = http.client.HTTPConnection("127.0.0.1", port, timeout=20)
    base, timer = max(acknowledged), None
    while True:
        notes = f"after {base}: {uuid4().hex}"
        body = {"base": base, "document": {**bare, "notes": notes}, "tab": "tab"}
        try:
            base = asked(wire, "PUT", f"/api/designs/{design}", body)["revision"]
        except (OSError, http.client.HTTPException):
            break
        acknowledged[base] = notes
        timer = timer or killed()  # it has answered once, so it is in mid-edit
    wire.close()
    if timer is not None:
        timer.join()


def asked(wire: http.client.HTTPConnection, method: str, path: str, body: Raw) -> Raw:
    wire.request(method, path, json.dumps(body), {"content-type": "application/json"})
    return dict(json.loads(wire.getresponse().read()))


def _all_there(folder: Path, design: str, acknowledged: dict[int, str]) -> None:
    refuse_unsound(folder / "studio.db")
    store = opened(folder)
    try:
        kept = {entry.revision for entry in revisions(store, design)}
        assert set(acknowledged) <= kept
        for revision in list(acknowledged)[-40:]:
            notes = document(store, design, revision)[1].get("notes", "")
            assert notes == acknowledged[revision]
    finally:
        store.close()


@pytest.mark.slow
def test_the_command_itself_killed_in_mid_edit_comes_back_with_every_change(tmp_path: Path, bare: Raw) -> None:
    store = opened(tmp_path)
    design = add_design(store, bare).id
    store.close()
    acknowledged = {1: ""}
    for _ in range(2):
        with _command(tmp_path) as server:
            assert server.stdout is not None
            words = server.stdout.readline()
            assert words.startswith("The studio is open at http://127.0.0.1:")
            port = int(words.rstrip("/\n").rpartition(":")[2])
            _edit(port, design, bare, acknowledged, partial(_killed_soon, server, 0.3))
        _all_there(tmp_path, design, acknowledged)
    assert len(acknowledged) > 2


def _command(folder: Path) -> "subprocess.Popen[str]":
    command = "from polestitch.cli import main; main()"
    line = [sys.executable, "-c", command, "studio", "--data", str(folder), "--no-browser"]
    return subprocess.Popen(line, stdout=subprocess.PIPE, text=True)


def test_a_change_half_written_is_not_there(tmp_path: Path, bare: Raw) -> None:
    store = opened(tmp_path)
    design = add_design(store, bare).id

    def broken() -> None:
        with store.writing() as session:
            session.connection().exec_driver_sql("UPDATE designs SET revision = 99")
            raise ZeroDivisionError

    with pytest.raises(ZeroDivisionError):
        broken()
    assert saved(store, design, Change(1, {**bare, "notes": "n"}, "tab")).revision == 2
    store.close()
    raw = sqlite3.connect(tmp_path / "studio.db")
    assert raw.execute("SELECT revision FROM designs").fetchone() == (2,)
    raw.close()
