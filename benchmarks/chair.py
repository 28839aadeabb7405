"""The chair: opening a piece of 20,000 bites against one of 2,000, as the page opens it.

In: nothing.  Out: rows for ``make bench``.  The reference is the smaller piece, opened in the same run.
"""

import tempfile
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from statistics import median
from time import perf_counter

from benchmarks.studio import served
from polestitch.store import pieces
from polestitch.store.store import opened
from polestitch.studio.examples import example_texts
from polestitch.studio.planning import PAGE, planned

ROUNDS = 40
FEW, MANY = 2_000, 20_000


def rows() -> list[tuple[str, float, float]]:
    """(goal, ratio, aim) for each line."""
    with tempfile.TemporaryDirectory() as folder:
        few, many = (_begun(Path(folder), steps) for steps in (FEW, MANY))
        with served(Path(folder)) as port:
            small, large = _opening(port, few), _opening(port, many)
    return [("<= a piece of 20,000 bites opened, first steps in hand : one of 2,000", large / small, 1.5)]


def _begun(folder: Path, steps: int) -> str:
    """A piece of so many steps: a real plan whose pages are laid one after another until there are enough."""
    plan = planned(example_texts()["winter-beacons"], 1)
    count = -(-steps // PAGE)
    whole = [plan.parts[f"steps {k}"] for k in range(plan.told["steps"] // PAGE)]
    pages = {f"steps {k}": whole[k % len(whole)] for k in range(count)}
    rest = {name: plan.parts[name] for name in ("scene", "sizes")}
    store = opened(folder)
    try:
        made = replace(plan, told={**plan.told, "steps": count * PAGE}, parts={**pages, **rest})
        return pieces.add_piece(store, "Heavy", "d" * 32, made).id
    finally:
        store.close()


def _opening(port: int, piece: str) -> float:
    """Median seconds until the piece and its first steps are there."""
    import http.client

    wire = http.client.HTTPConnection("127.0.0.1", port, timeout=30)

    def asked(path: str) -> None:
        wire.request("GET", path)
        wire.getresponse().read()

    def opened_once() -> None:
        asked(f"/api/pieces/{piece}")
        asked(f"/api/pieces/{piece}/steps?from=0&count={PAGE}")

    found = median(_seconds(opened_once) for _ in range(ROUNDS))
    wire.close()
    return found


def _seconds(call: Callable[[], None]) -> float:
    begin = perf_counter()
    call()
    return perf_counter() - begin
