"""Speed of the whole build, from cold processes and in a running one.

Every figure is a ratio against a reference measured in the same run; the machine's own speed drops out.
"""

import os
import resource
import statistics
import subprocess
import sys
import tempfile
import time
import tracemalloc
from collections.abc import Callable, Sequence
from dataclasses import replace
from pathlib import Path

import numpy as np

from benchmarks.balls import ball_a, same_thread
from polestitch.document.codec import read, written
from polestitch.document.design import Design
from polestitch.fit import rows_until
from polestitch.laying.added import with_row
from polestitch.laying.crossings import crossings
from polestitch.laying.settle import Strands
from polestitch.pipeline import Build, build
from polestitch.stitching.motifs import motifs
from polestitch.stitching.stitches import Row
from polestitch.summary import work_json
from polestitch.workup import workup

SHOW_BALLS = Path(__file__).parents[1] / "examples/harbour-lights/balls"
ONE_THREAD = {"OPENBLAS_NUM_THREADS": "1", "OMP_NUM_THREADS": "1"}
BARE, NUMPY = "pass", "import numpy"
WHOLE = "import sys; from benchmarks.building import whole; whole(sys.stdin.read())"
HELP = "import sys; sys.argv = ['polestitch', '--help']; from polestitch.cli import main; main()"


def rows() -> list[tuple[str, float, float]]:
    """(goal, ratio, aim) for each line; a line beginning with '<=' is met when the ratio is at most the aim."""
    document = written(ball_a())
    numpy = cold(NUMPY)
    made = build(ball_a())
    full = in_process(lambda: everything(ball_a()))
    crossing = in_process(lambda: crossings(replace(made.laid)))
    slowest, seconds = slowest_show_ball()
    return [
        ("<= whole build of A, cold process : bare import numpy process", cold(WHOLE, document) / numpy, 3.0),
        ("<= polestitch --help, cold process : bare Python process", cold(HELP) / cold(BARE), 6.0),
        ("<= one row added to A : full build", row_added(made) / full, 0.05),
        (f"<= the slowest show ball ({slowest}), built warm : crossings of A", seconds / crossing, 100 / 28),
        ("<= growth of the build, same thread in 3k to 100k spans: exponent", growth(), 0.6),
        ("<= memory above imports, A, in MB (a size, not a ratio)", memory_mb(), 30.0),
    ]


def whole(text: str) -> None:
    """Document text to everything that follows from it; what a cold process is timed on."""
    everything(read(text))


def everything(design: Design) -> Build:
    """Laid thread, crossings, cover, estimate and checks."""
    made = build(design)
    worked = workup(made)
    work_json(made, worked.estimate, worked.findings, worked.route.mm, worked.doubt)
    return made


def cold(code: str, given: str = "", times: int = 9) -> float:
    """Median processor seconds of a fresh process that runs ``code``; other work on the machine hardly counts.

    All modules have their bytecode, as those of an installed package do: a first process makes it, uncounted.
    """
    with tempfile.TemporaryDirectory() as made:
        _process_seconds(code, given, made)
        return statistics.median(_process_seconds(code, given, made) for _ in range(times))


def _process_seconds(code: str, given: str, bytecode: str) -> float:
    before = resource.getrusage(resource.RUSAGE_CHILDREN)
    subprocess.run(
        [sys.executable, "-c", code],
        input=given,
        text=True,
        check=True,
        stdout=subprocess.DEVNULL,
        env={**os.environ, **ONE_THREAD, "PYTHONDONTWRITEBYTECODE": "", "PYTHONPYCACHEPREFIX": bytecode},
    )
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    return after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime


def in_process(work: Callable[[], object], times: int = 7) -> float:
    """Median seconds of ``work`` once warm."""
    work()
    taken = []
    for _ in range(times):
        begun = time.process_time()
        work()
        taken.append(time.process_time() - begun)
    return statistics.median(taken)


def row_added(made: Build) -> float:
    """Seconds to lay a fifteenth row on S's zigzag of ball A."""
    longer = ball_a(rows=15)
    pole = next(m for m in motifs(longer, made.marking, made.ball, rows_until) if m.place == "S")
    last = replace(pole, rows=pole.rows[:15], threads=pole.threads[:15])
    # An editor keeps the strands while she adds rows; here the same row is laid anew every time.
    strands = [_so_far(last.rows[:-1]) for _ in range(16)]
    return in_process(lambda: with_row(made.laid, made.crossings, last, strands.pop()), 15)


def _so_far(rows: Sequence[Row]) -> Strands:
    strands = Strands()
    for row in rows:
        strands.laid(row)
    return strands


def slowest_show_ball() -> tuple[str, float]:
    """The ball of the Harbour Lights show that takes longest to build once warm, and its median seconds."""
    balls = {path.stem: read(path.read_text(encoding="utf-8")) for path in SHOW_BALLS.glob("*.json")}
    taken = {name: in_process(lambda design=design: build(design), 5) for name, design in balls.items()}
    return max(taken.items(), key=lambda one: one[1])


def growth() -> float:
    """Slope of log time over log spans, the same length of thread in 3,000 to 100,000 spans."""
    sizes = (3_000, 9_000, 30_000, 100_000)
    seconds = [in_process(lambda size=size: everything(same_thread(size)), 1) for size in sizes]
    return float(np.polyfit(np.log(sizes), np.log(seconds), 1)[0])


def memory_mb() -> float:
    """Most memory the build of A holds at once."""
    tracemalloc.start()
    everything(ball_a())
    peak = tracemalloc.get_traced_memory()[1]
    tracemalloc.stop()
    return peak / 1e6
