"""Whether a ball whose layer was taken apart is the same ball but for its colours.

In: the build before and after, the layer, and which motifs went into which part.  Out: how many crossings differ.
"""

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from polestitch.pipeline import Build

# A direction no ball has anything to do with: it tells crossings of the same two rows apart.
_ASIDE = np.array([0.3141, 0.5926, 0.7413])
NEAR = 1e-6


def differences(before: Build, after: Build, layer: int, parts: Sequence[Sequence[int]]) -> int:
    """Crossings that are taken the other way round, moved, new or gone."""
    old = _crossings(before, _old_names(before))
    new = _crossings(after, _new_names(after, layer, parts))
    if len(old[0]) != len(new[0]):
        return max(len(old[0]), len(new[0]))
    same = (old[0] == new[0]).all(axis=1) & (np.abs(old[1] - new[1]) < NEAR) & (old[2] == new[2])
    return int((~same).sum())


def _old_names(made: Build) -> NDArray[np.int64]:
    laid = made.laid
    return np.stack([laid.row_layer, laid.row_motif, laid.row_number], axis=1).astype(np.int64)


def _new_names(made: Build, layer: int, parts: Sequence[Sequence[int]]) -> NDArray[np.int64]:
    """(w, 3) layer, motif and row of every row as they were called before."""
    laid, more = made.laid, len(parts) - 1
    motif = laid.row_motif.astype(np.int64)
    for k, motifs in enumerate(parts):
        mine = laid.row_layer == layer + k
        motif[mine] = np.array(motifs)[motif[mine]]
    of = laid.row_layer.astype(np.int64)
    of = np.where(of <= layer, of, np.where(of <= layer + more, layer, of - more))
    return np.stack([of, motif, laid.row_number.astype(np.int64)], axis=1)


def _crossings(
    made: Build, names: NDArray[np.int64]
) -> tuple[NDArray[np.int64], NDArray[np.float64], NDArray[np.int64]]:
    """By crossing, in an order of names: its two rows, where it is along a line, and the row on top."""
    laid, found = made.laid, made.crossings
    name = (names[:, 0] * 1_000_000 + names[:, 1]) * 10_000 + names[:, 2]
    one, other = name[laid.arc_row[found.first]], name[laid.arc_row[found.second]]
    pair = np.sort(np.stack([one, other], axis=1), axis=1)
    over = np.where(made.over, other, one)
    top = np.where(one == other, np.where(made.over, 1, -1), over)  # a row over itself: whether its later leg is on top
    along = found.point @ _ASIDE
    order = np.lexsort((np.round(along, 7), pair[:, 1], pair[:, 0]))
    return pair[order], along[order], top[order]
