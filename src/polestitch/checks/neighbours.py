"""Motifs of one layer side by side: threads that cross into each other's ground, or leave it bald.

In: a build.  Out: findings.
"""

from collections.abc import Iterator, Sequence

import numpy as np

from polestitch.checks.finding import Finding, Made, fewer_rows, rows_said, said
from polestitch.document.said import listed
from polestitch.sphere.arcs import Points
from polestitch.stitching.motifs import Motif

# A gap of one thread is hidden by its neighbours' roundness; wider than two, the ground shows (common practice).
BALD_PITCHES = 2.0
SAMPLES = 7  # along an arc, to find where two motifs come nearest
# Farther apart than this many times the nearest pair of middles, motifs are no neighbours.
BESIDE = 1.2


def collisions(made: Made) -> Iterator[Finding]:
    """Layers worked motif after motif whose neighbouring motifs cross."""
    laid, met = made.laid, made.crossings
    first, second = laid.arc_row[met.first], laid.arc_row[met.second]
    same_layer = laid.row_layer[first] == laid.row_layer[second]
    strange = same_layer & (laid.row_motif[first] != laid.row_motif[second])
    for layer in np.unique(laid.row_layer[first[strange]]).tolist():
        entry = made.design.layers[layer]
        here = np.flatnonzero(strange & (laid.row_layer[first] == layer))
        with_itself = any(under.layer == entry.name for under in entry.under)
        if entry.combine == "layered" or entry.together or with_itself or _kind(made, layer) in ("circle", "ball"):
            continue  # they are meant to interlace
        rows = np.maximum(laid.row_number[first[here]], laid.row_number[second[here]])
        nearest = here[np.argmin(rows)]
        pair = [_place(made, layer, int(laid.row_motif[row[nearest]])) for row in (first, second)]
        yield _collision(made, layer, int(rows.min()), pair)


def _collision(made: Made, layer: int, row: int, pair: list[str]) -> Finding:
    name, plan = made.design.layers[layer].name, _plan(made, layer, row)
    apart = f"Take {rows_said(plan)} to keep them apart" if plan else "Start nearer to the centres to keep them apart"
    sentence = (
        f'Neighbouring motifs of "{name}" cross from row {row} on, first at {listed(pair)}: worked one after the '
        f"other, the later one simply lies on top. {apart}, or work the layer layered if they are to interlace."
    )
    return Finding("motifs collide", "care", sentence, layer, row, pair[0], fewer_rows(made, layer, plan))


def _kind(made: Made, layer: int) -> str:
    return next(motif.site.kind for motif in made.motifs if motif.layer == layer)


def _place(made: Made, layer: int, number: int) -> str:
    return next(motif.place for motif in made.motifs if motif.layer == layer and motif.number == number + 1)


def _plan(made: Made, layer: int, row: int) -> int:
    """Entries of the row list before the one that row ``row`` belongs to."""
    rows = max((motif.rows for motif in made.motifs if motif.layer == layer), key=len)
    return rows[min(row, len(rows)) - 1].plan


def bald_gaps(made: Made) -> Iterator[Finding]:
    """Layers that promise to run until their neighbours, and leave more than two threads' width between."""
    for layer, entry in enumerate(made.design.layers):
        motifs = [motif for motif in made.motifs if motif.layer == layer]
        if len(motifs) < 2 or motifs[0].reaches != "neighbours":
            continue
        gap, pair = narrowest(made, motifs)
        pitch = max(motif.rows[-1].pitch for motif in motifs)
        if gap > BALD_PITCHES * pitch:
            bare = said(made, made.ball.mm(gap))
            sentence = (
                f'"{entry.name}" stops {bare} short of its neighbours, first at {listed(pair)}: one more row would '
                "cross them, and the ground shows between. Start a little nearer, or fill the gap with one more line."
            )
            yield Finding("bald gap", "note", sentence, layer, motifs[0].rows[-1].number, pair[0])


def narrowest(made: Made, motifs: Sequence[Motif]) -> tuple[float, list[str]]:
    """Bare width (radians) where two motifs' last rows come nearest, and their places."""
    points = [_last_row(made, motif) for motif in motifs]
    middles = np.stack([motif.middle for motif in motifs])
    apart = np.arccos(np.clip(middles @ middles.T, -1, 1)) + np.pi * np.eye(len(motifs))
    best, pair = np.inf, [0, 0]
    for one, other in np.argwhere(np.triu(apart < BESIDE * apart.min(), 1)).tolist():
        gap = float(np.arccos(np.clip((points[one] @ points[other].T).max(), -1, 1)))
        if gap < best:
            best, pair = gap, [one, other]
    half = (motifs[pair[0]].rows[-1].pitch + motifs[pair[1]].rows[-1].pitch) / 2
    return best - half, [motifs[k].place for k in pair]


def _last_row(made: Made, motif: Motif) -> Points:
    """Points along the motif's last row, (n, 3)."""
    laid = made.laid
    mine = (laid.row_layer == motif.layer) & (laid.row_motif == motif.number - 1)
    row = int(np.flatnonzero(mine)[-1])
    arcs = np.flatnonzero(laid.arc_row == row).astype(np.int32)
    shares = np.linspace(0, 1, SAMPLES)
    return laid.at(np.repeat(arcs, SAMPLES), np.outer(laid.sweep[arcs], shares).ravel())
