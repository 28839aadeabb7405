"""Speed of the studio's server: what a maker waits for after each edit, and when she opens her shelf.

Every figure is a ratio measured in one run, or a size; the server is the real one, asked over HTTP.
"""

import copy
import http.client
import json
import statistics
import subprocess
import sys
import tempfile
import threading
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from functools import partial
from pathlib import Path
from typing import Any

from benchmarks.balls import ball_a
from polestitch.document.codec import read, written
from polestitch.pipeline import Build, build
from polestitch.scene import decoded
from polestitch.store.designs import add_design
from polestitch.store.store import opened
from polestitch.studio.examples import empty_ball

Raw = dict[str, Any]
TIMES = 25


def rows() -> list[tuple[str, float, float]]:
    """(goal, ratio, aim) for each line; a line beginning with '<=' is met when the ratio is at most the aim."""
    raw = json.loads(written(ball_a()))
    with tempfile.TemporaryDirectory() as folder, served(Path(folder)) as port:
        edit, payload = edited(port, raw)
        waited = flooded(port, raw)
    few, many = shelf_of(50), shelf_of(500)
    return [
        ("<= one parameter of A edited, to records at the client : bare build", edit, 1.3),
        ("<= payload of A, bytes a span", payload, 40.0),
        ("<= 30 edits a second: the last answer : one answer alone", waited, 3.0),
        ("<= shelf of 500 designs, its first 60 cards : shelf of 50", many / few, 2.0),
    ]


@contextmanager
def served(folder: Path) -> Iterator[int]:
    """The studio's own command, until the end of the block."""
    line = [sys.executable, "-c", "from polestitch.cli import main; main()"]
    line += ["studio", "--data", str(folder), "--no-browser"]
    with subprocess.Popen(line, stdout=subprocess.PIPE, text=True) as server:
        assert server.stdout is not None
        yield int(server.stdout.readline().rstrip("/\n").rpartition(":")[2])
        server.terminate()


def asked(wire: http.client.HTTPConnection, raw: Raw, question: int, tab: str = "bench") -> tuple[int, bytes]:
    """Status and body."""
    body = json.dumps({"document": raw, "question": question, "tab": tab})
    wire.request("POST", "/api/build", body, {"content-type": "application/json"})
    answer = wire.getresponse()
    return answer.status, answer.read()


def built(text: str) -> Build:
    """The bare pipeline."""
    return build(read(text))


def variant(raw: Raw, k: int) -> Raw:
    """``raw`` with one parameter changed, never the same twice."""
    made = copy.deepcopy(raw)
    made["layers"][0]["params"]["inner"] = f"{6 + k / 1000:.3f} mm"
    return made


def edited(port: int, raw: Raw) -> tuple[float, float]:
    """Edit to decoded records over bare build, turn by turn so that the machine's moods fall on both; bytes a span."""
    wire = http.client.HTTPConnection("127.0.0.1", port)
    ratios, data = [], b""
    for k in range(TIMES + 3):
        made = variant(raw, k)
        text = json.dumps(made)
        bare = seconds(partial(built, text))
        begin = time.perf_counter()
        data = asked(wire, made, k)[1]
        scene = decoded(data)
        ratios.append((time.perf_counter() - begin) / bare)
    wire.close()
    spans = sum(layer["spans"] for layer in scene.index["layers"])
    return statistics.median(ratios[3:]), len(data) / spans


def flooded(port: int, raw: Raw) -> float:
    """A second of 30 edits: how long the last waits, over one answer alone; a queue would make it wait for all."""
    wire = http.client.HTTPConnection("127.0.0.1", port)
    alone = statistics.median(seconds(partial(asked, wire, variant(raw, 100 + k), k, "alone")) for k in range(9))
    wire.close()
    ended: dict[int, float] = {}

    def ask(k: int) -> None:
        own = http.client.HTTPConnection("127.0.0.1", port)
        asked(own, variant(raw, 200 + k), k, "flood")
        ended[k] = time.perf_counter()
        own.close()

    threads = [threading.Thread(target=ask, args=(k,)) for k in range(30)]
    begun = 0.0
    for thread in threads:
        begun = time.perf_counter()
        thread.start()
        time.sleep(1 / 30)
    for thread in threads:
        thread.join()
    return (ended[29] - begun) / alone


def shelf_of(count: int) -> float:
    """Seconds to open a shelf of so many designs."""
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        store = opened(folder)
        for k in range(count):
            add_design(store, {**empty_ball("24 cm"), "name": f"Ball {k}"}, ("bench", f"tag {k % 9}"))
        store.close()
        with served(folder) as port:
            wire = http.client.HTTPConnection("127.0.0.1", port)

            def shelf() -> None:
                wire.request("GET", "/api/designs?count=60")
                wire.getresponse().read()

            found = min(seconds(shelf) for _ in range(TIMES))
            wire.close()
    return found


def seconds(work: Callable[[], object]) -> float:
    """Time of one run."""
    begin = time.perf_counter()
    work()
    return time.perf_counter() - begin
