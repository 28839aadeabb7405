"""Motifs of one layer side by side: threads that cross into each other's ground, or leave it bald.

In: a build.  Out: findings.
"""

from collections.abc import Iterator, Sequence
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from polestitch.checks.finding import Finding, Made, fewer_rows, rows_said, said, spot
from polestitch.document.said import listed
from polestitch.laying.alongside import nearest_on
from polestitch.sphere.arcs import Points, arc_angle, dot, unit
from polestitch.stitching.motifs import Motif

# A gap of one thread is hidden by its neighbours' roundness; wider than two, the ground shows (common practice).
BALD_PITCHES = 2.0
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
        deepest = int(here[_deepest(made, layer, here)])
        pair = [_place(made, layer, int(laid.row_motif[row[deepest]])) for row in (first, second)]
        yield _collision(made, (layer, int(rows.min())), pair, met.point[deepest])


def _deepest(made: Made, layer: int, here: NDArray[np.intp]) -> int:
    """Which of the crossings ``here`` lies nearest to the middle of one of its two motifs."""
    laid, met = made.laid, made.crossings
    middles = {motif.number - 1: motif.middle for motif in made.motifs if motif.layer == layer}
    near = [
        dot(
            met.point[here], np.stack([middles[number] for number in laid.row_motif[laid.arc_row[arcs[here]]].tolist()])
        )
        for arcs in (met.first, met.second)
    ]
    return int(np.argmax(np.round(np.maximum(*near), 9)))


def _collision(made: Made, where: tuple[int, int], pair: list[str], at: Points) -> Finding:
    layer, row = where
    name, plan = made.design.layers[layer].name, _plan(made, layer, row)
    apart = f"Take {rows_said(plan)} to keep them apart" if plan else "Start nearer to the centres to keep them apart"
    sentence = (
        f'Neighbouring motifs of "{name}" cross from row {row} on, deepest at {listed(pair)}: worked one after the '
        f"other, the later one simply lies on top. {apart}, or work the layer layered if they are to interlace."
    )
    remedy = fewer_rows(made, layer, plan)
    return Finding("motifs collide", "care", sentence, layer, row, pair[0], remedy, spot(at))


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
        gap, pair, at = narrowest(made, motifs)
        pitch = max(motif.rows[-1].pitch for motif in motifs)
        if gap > BALD_PITCHES * pitch:
            bare = said(made, made.ball.mm(gap))
            sentence = (
                f'"{entry.name}" stops {bare} short of its neighbours, first at {listed(pair)}: one more row would '
                "cross them, and the ground shows between. Start a little nearer, or fill the gap with one more line."
            )
            yield Finding("bald gap", "note", sentence, layer, motifs[0].rows[-1].number, pair[0], at=spot(at))


class Narrowest(NamedTuple):
    """Bare width (radians) where two motifs' last rows come nearest, their places, and the spot (3,) half way."""

    bare: float
    places: list[str]
    at: Points


def narrowest(made: Made, motifs: Sequence[Motif]) -> Narrowest:
    """Where the last rows of two motifs that are neighbours come nearest."""
    rows = [_last_row(made, motif) for motif in motifs]
    middles = np.stack([motif.middle for motif in motifs])
    apart = np.arccos(np.clip(middles @ middles.T, -1, 1)) + np.pi * np.eye(len(motifs))
    pairs = np.argwhere(np.triu(apart < BESIDE * apart.min(), 1)).tolist()
    met = [_nearest_of(made, rows[one], rows[other]) for one, other in pairs]
    best = int(np.argmin(np.round([arc_angle(here, there) for here, there in met], 9)))
    (one, other), (here, there) = pairs[best], met[best]
    half = (motifs[one].rows[-1].pitch + motifs[other].rows[-1].pitch) / 2
    return Narrowest(float(arc_angle(here, there)) - half, [motifs[k].place for k in (one, other)], unit(here + there))


def _last_row(made: Made, motif: Motif) -> int:
    """Which laid row is the motif's last."""
    laid = made.laid
    return int(np.flatnonzero((laid.row_layer == motif.layer) & (laid.row_motif == motif.number - 1))[-1])


def _nearest_of(made: Made, one: int, other: int) -> tuple[Points, Points]:
    """The two places where two rows come nearest, twice the same where they cross.

    Two arcs of great circles that don't cross come nearest at an end of one of them.
    """
    laid, met = made.laid, made.crossings
    first, second = laid.arc_row[met.first], laid.arc_row[met.second]
    early, late = min(one, other), max(one, other)
    crossed = np.flatnonzero((np.minimum(first, second) == early) & (np.maximum(first, second) == late))
    if len(crossed):
        return met.point[crossed[0]], met.point[crossed[0]]
    best = [_nearest_end(made, row, of) for row, of in ((one, other), (other, one))]
    return min(best, key=lambda pair: float(arc_angle(*pair)))


def _nearest_end(made: Made, row: int, of: int) -> tuple[Points, Points]:
    """The end of an arc of ``row`` that is nearest to the row ``of``, and the place there."""
    laid = made.laid
    arcs, run = np.flatnonzero(laid.arc_row == row).astype(np.int32), np.flatnonzero(laid.arc_row == of)
    ends = np.concatenate([laid.start[arcs], laid.at(arcs, laid.sweep[arcs])])
    there, _ = nearest_on(laid, ends, np.broadcast_to([run[0], run[-1] + 1], (len(ends), 2)))
    k = int(np.argmin(arc_angle(ends, there)))
    return ends[k], there[k]
