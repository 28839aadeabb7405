"""The thread of one motif as lines on paper: first row dark, later rows paler, a gap where one goes under.

In: a ``Build``, a motif and a lens.  Out: marks in mm.
"""

from collections import defaultdict
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from polestitch.pipeline import Build
from polestitch.sheets.curves import Curve, Interval, Lens, curve_of, paths
from polestitch.sheets.inks import row_ink
from polestitch.sheets.sheet import Mark, Pen
from polestitch.stitching.motifs import Motif

FIRST_ROW, LATER_ROW = 0.5, 0.32  # pen widths in mm
CLEAR = 0.28  # white each side of the thread on top
LONGEST_GAP = 1.4


@dataclass(frozen=True)
class Threads:
    """Lines of one motif, and points along them for labels to keep clear of."""

    marks: tuple[Mark, ...]
    spots: NDArray[np.float64]  # (n, 2) about one a millimetre
    first_row: NDArray[np.bool_]  # (n,)


def share_of_row(number: int, count: int) -> float:
    """0 for the first row, 1 for the last."""
    return (number - 1) / max(count - 1, 1)


def row_pen(build: Build, motif: Motif, number: int, thread: int) -> Pen:
    """How row ``number`` of the motif is drawn."""
    count = max(row.number for row in motif.rows)
    ink = row_ink(build.design.threads[thread].colour, share_of_row(number, count))
    return Pen(ink, FIRST_ROW if number == 1 else LATER_ROW, cap="butt")


def motif_arcs(build: Build, motif: Motif) -> NDArray[np.intp]:
    """Indices of the motif's arcs, in laying order."""
    laid = build.laid
    rows = (laid.row_layer == motif.layer) & (laid.row_motif == motif.number - 1)
    return np.flatnonzero(rows[laid.arc_row])


def threads(build: Build, motif: Motif, lens: Lens, mm: float) -> Threads:
    """The motif's threads; ``mm`` is paper mm for a radian."""
    laid, arcs = build.laid, motif_arcs(build, motif)
    gaps = _gaps(build, arcs, mm)
    marks: list[Mark] = []
    spots, first = [np.zeros((0, 2))], [np.zeros(0, dtype=bool)]
    for arc in arcs.tolist():
        row = int(laid.arc_row[arc])
        number, curve = int(laid.row_number[row]), curve_of(laid, arc)
        marks += paths(curve, lens, row_pen(build, motif, number, int(laid.row_thread[row])), gaps[arc])
        spots.append(_samples(curve, lens, mm))
        first.append(np.full(len(spots[-1]), number == 1))
    return Threads(tuple(marks), np.concatenate(spots), np.concatenate(first))


def _samples(curve: Curve, lens: Lens, mm: float) -> NDArray[np.float64]:
    points = curve.at(np.linspace(0, curve.sweep, max(2, int(curve.sweep * mm))))
    return lens.paper(points[lens.shows(points)])


def _gaps(build: Build, arcs: NDArray[np.intp], mm: float) -> dict[int, list[Interval]]:
    """Where each arc goes under another of the same motif."""
    met, laid = build.crossings, build.laid
    ours = np.flatnonzero(np.isin(met.first, arcs) & np.isin(met.second, arcs))
    later_on_top = build.over[ours]
    under = np.where(later_on_top, met.first[ours], met.second[ours])
    top = np.where(later_on_top, met.second[ours], met.first[ours])
    at = met.point[ours]
    t = laid.t_of(under, at)
    sine = np.abs(np.einsum("ki,ki->k", np.cross(_heading(build, under, at), _heading(build, top, at)), at))
    width = np.where(laid.row_number[laid.arc_row[top]] == 1, FIRST_ROW, LATER_ROW)
    half = np.minimum((width / 2 + CLEAR) / np.maximum(sine, 1e-3), LONGEST_GAP) / mm / laid.radius[under]
    gaps: dict[int, list[Interval]] = defaultdict(list)
    for arc, low, high in zip(under.tolist(), (t - half).tolist(), (t + half).tolist()):
        gaps[arc].append((low, high))
    return gaps


def _heading(build: Build, arcs: NDArray[np.intp], at: NDArray[np.float64]) -> NDArray[np.float64]:
    """Unit direction of each arc at its point."""
    across = np.cross(build.laid.normal[arcs], at)
    return np.asarray(across / np.linalg.norm(across, axis=1, keepdims=True))
