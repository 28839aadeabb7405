"""Wound turns, for authors of techniques: a row that goes once round the ball and has no bites.

In: a turn and its place in the work.  Out: one row.
"""

import numpy as np

from polestitch.stitching.stitches import Beneath, Row, Turn


def wound_row(
    turn: Turn, count: tuple[int, int], pitch: float, under: tuple[str, ...] = (), beneath: Beneath | None = None
) -> Row:
    """The row that lies along ``turn``; ``count`` is its number and its entry in the row list."""
    none, empty, no = np.zeros((0, 3)), np.zeros(0), np.zeros(0, dtype=bool)
    return Row(
        number=count[0],
        pitch=pitch,
        places=none,
        travel=none,
        half=empty,
        outward=none,
        step=empty,
        narrow=no,
        wide=no,
        spokes=(),
        turn=turn,
        plan=count[1],
        under=under,
        beneath=beneath,
    )
