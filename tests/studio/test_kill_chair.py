"""Killed while steps are told: every event that was acknowledged is there, once, whatever was told again."""

import http.client
import multiprocessing
import random
import threading
from pathlib import Path
from typing import Any

import pytest

from polestitch.store import pieces
from polestitch.store.designs import document_text
from polestitch.store.store import opened
from polestitch.studio.planning import planned
from tests.studio.test_kill import asked, serving

KILLS = 5
FORKS = multiprocessing.get_context("forkserver")


@pytest.mark.slow
def test_no_acknowledged_step_is_lost(tmp_path: Path, bare: dict[str, Any]) -> None:
    FORKS.set_forkserver_preload(["tests.studio.test_kill", "uvicorn.protocols.http.auto", "uvicorn.loops.auto"])
    chance, acknowledged, told = random.Random(5), set[str](), 0
    store = opened(tmp_path)
    piece = pieces.add_piece(store, "Mine", "d" * 32, planned(document_text(bare), 1)).id
    store.close()
    for _ in range(KILLS):
        near, far = FORKS.Pipe()
        server = FORKS.Process(target=serving, args=(tmp_path, far))
        server.start()
        wire = http.client.HTTPConnection("127.0.0.1", near.recv(), timeout=20)
        timer = threading.Timer(chance.uniform(0.02, 0.08), server.kill)
        try:
            while True:
                told += 1  # and, as after a lost answer, the one before once more
                events = [_event(n) for n in (told - 1, told) if n]
                answer = asked(wire, "POST", f"/api/pieces/{piece}/events", {"events": events})
                acknowledged |= set(answer["accepted"])
                if timer.ident is None:
                    timer.start()  # it has answered once, so it is in the middle of it
        except (OSError, http.client.HTTPException):
            told -= 1
        wire.close()
        timer.join()
        server.join()
    store = opened(tmp_path)
    kept = [event["id"] for event in pieces.events(store, piece)[0]]
    store.close()
    assert len(acknowledged) > KILLS
    assert acknowledged <= set(kept)
    assert len(kept) == len(set(kept))


def _event(n: int) -> dict[str, Any]:
    at = "2026-12-06T10:00:00Z"
    return {"id": f"{n:032x}", "device": "tablet", "seq": n, "clock": n, "at": at, "kind": "next", "step": n % 30}
