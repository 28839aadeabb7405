"""Which motifs would lie exactly on motifs before them.

In: the frames and rows of motifs worked at every turn of the ball.  Out: those whose thread lies apart.
A path that a turn takes to itself comes round more than once; nobody stitches it twice.
"""

from collections.abc import Iterator, Sequence

import numpy as np

from polestitch.sphere.arcs import Points
from polestitch.stitching.stitches import Row

SAME = 1e-6


def apart(frames: Sequence[Points], rows: Sequence[tuple[Row, ...]]) -> Iterator[int]:
    """Index of every motif but those whose every bite an earlier one has too."""
    from scipy.spatial import cKDTree  # here, since most balls never ask

    found: list[cKDTree] = []
    for k, (frame, own) in enumerate(zip(frames, rows)):
        bites = np.concatenate([_bites(row, frame) for row in own])
        if not any(len(bites) == tree.n and (tree.query(bites)[0] < SAME).all() for tree in found):
            found.append(cKDTree(bites))
            yield k


def _bites(row: Row, frame: Points) -> Points:
    """(n, 7) every bite on the ball, in and out, and its row; a wound turn is its circle."""
    if row.turn is not None:
        into, out = (row.turn.normal @ frame.T)[None], np.full((1, 3), row.turn.offset)
    else:
        into, out = row.enters @ frame.T, row.leaves @ frame.T
    return np.hstack([into, out, np.full((len(into), 1), float(row.number))])
