"""Speed of the large balls of the repertoire, against building ball A in the same run."""

from typing import Any

import numpy as np

from benchmarks.balls import ball_a
from benchmarks.building import in_process
from polestitch.ball.ball import Ball
from polestitch.document.design import Design
from polestitch.marking.divisions import _marked, marked
from polestitch.marking.pins import pin_plan
from polestitch.pipeline import build

AROUND_MM = 400.0
FACES = ("C10/162", "C10/362", "C10/642", "C10/1002")
ROWS = (28, 56, 111)  # of the all-over kousa: 180 spans each


def rows() -> list[tuple[str, float, float]]:
    """(goal, ratio, aim) for each line; a line beginning with '<=' is met when the ratio is at most the aim."""
    reference = in_process(lambda: build(ball_a()))
    made = build(kousa(ROWS[-1]))
    spans = f"{len(made.laid.span_row)} spans, {len(made.crossings)} crossings"
    return [
        ("<= marking of 642 faces with its pin plan : build of A", pinned("C10/642") / reference, 3.0),
        ("<= growth of that with faces, 162 to 1,002: exponent", slope([162, 362, 642, 1002], map(pinned, FACES)), 1.5),
        (f"<= all-over kousa on 32 faces, {spans} : build of A", kousa_built(ROWS[-1]) / reference, 4.0),
        ("<= growth of that with rows: exponent", slope(ROWS, map(kousa_built, ROWS)), 1.5),
    ]


def pinned(division: str) -> float:
    """Seconds to mark a ball and to plan its pins, nothing remembered."""

    def work() -> None:
        _marked.cache_clear()
        pin_plan(marked(division), Ball(AROUND_MM))

    return in_process(work, 5)


def kousa(rows: int) -> Design:
    """Every face of 32 filled from its middle, row 1 on all, row 2 on all, each face as wide as the pitch allows."""
    pitch_mm = 15.0 / rows  # rows of the same thickness together: neighbours meet and cross a little
    return Design.model_validate(
        {
            "name": "all-over kousa",
            "ball": {"around": f"{AROUND_MM} mm"},
            "threads": [{"name": "white", "colour": "#f4f1e8", "rows_per_cm": min(10 / pitch_mm, 100)}],
            "marking": {"division": "C10/32"},
            "layers": [_filled("five", "all centres", 5, rows), _filled("six", "all faces", 6, rows)],
        }
    )


def _filled(name: str, where: str, corners: int, rows: int) -> dict[str, Any]:
    params = {"corners": corners, "at": "4 mm"}
    like = {"technique": "polygon", "combine": "layered", "together": "kousa", "rows": f"{rows} white"}
    return {"name": name, "where": where, "params": params, **like}


def kousa_built(rows: int) -> float:
    """Seconds to build it."""
    return in_process(lambda: build(kousa(rows)), 3)


def slope(sizes: Any, seconds: Any) -> float:
    """Slope of log time over log size."""
    return float(np.polyfit(np.log(list(sizes)), np.log(list(seconds)), 1)[0])
