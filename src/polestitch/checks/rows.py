"""Rows on rows: threads piled up at one spot, ground between rows, and rows hidden by the next.

In: a build.  Out: findings, measured on the thread as laid.
"""

from collections.abc import Iterator, Sequence
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from polestitch.checks.finding import Finding, Made, Severity, by_layer, nearest_name, said, spot
from polestitch.laying.alongside import Alongside, alongside
from polestitch.laying.top import top
from polestitch.sphere.arcs import Angles, Points
from polestitch.stitching.motifs import Motif

# Threads on one spot.  Common practice, no source: a heap of ten size-5 threads stands about 5 mm high.
PILED_NOTE, PILED_CARE = 8, 14
# Two rows apart by this many of their threads, from middle to middle: up to a quarter of a thread their roundness
# hides the ground; where a whole thread of ground lies bare, a row seems to be missing.
GAPING_NOTE, GAPING_CARE = 1.25, 2.0
# Ground narrower than this is no line to the eye at arm's length: a minute of arc at 60 cm.
SEEN_MM = 0.17
# A row of which the next leaves less than this to be seen along most of a leg is narrowed, or as good as hidden.
NARROWED, HIDDEN = 0.9, 2 / 3
MOST = 0.5  # of a leg
# Spots looked at for bare ground at a time, the widest gaps first.
AT_A_TIME = 2000

Piece = tuple[Motif, Alongside]


def build_up(made: Made) -> Iterator[Finding]:
    """A spot where more threads lie on each other than a ball bears."""
    most = made.cover.buildup_max
    if most <= PILED_NOTE:
        return
    name = nearest_name(made, made.cover.buildup_at)
    sentence = (
        f"{most} threads lie on each other near {name}: a knob that lifts later rows and unsettles the ball. "
        "Start the motifs there further out, take fewer rows, or use a finer thread."
    )
    severity: Severity = "care" if most > PILED_CARE else "note"
    at = made.cover.buildup_at
    yield Finding("build-up", severity, sentence, _layer_at(made, at), address=name, at=spot(at))


def _layer_at(made: Made, at: Points) -> int:
    """The layer with most rows over the spot ``at`` (3,)."""
    laid = made.laid
    aside = np.abs(np.arcsin(np.clip(laid.normal @ at, -1, 1)) - np.arcsin(laid.offset))
    arcs = np.flatnonzero(aside < laid.row_pitch[laid.arc_row] / 2).astype(np.int32)
    arcs = arcs[laid.t_of(arcs, np.broadcast_to(at, (len(arcs), 3))) <= laid.sweep[arcs]]
    return int(np.bincount(laid.row_layer[np.unique(laid.arc_row[arcs])]).argmax())


def mid_span_gap(width: Angles, span: Angles) -> Angles:
    """How far apart two rows lie in mid-span: tan g = tan w / cos(L / 2), all in radians.

    ``width`` is their distance at the ends, square to them, ``span`` the length from bite to bite; two
    great circles that keep a distance at both ends part between them.
    """
    return np.asarray(np.arctan2(np.tan(width), np.cos(span / 2)))


def rows_on_rows(made: Made) -> Iterator[Finding]:
    """Layers whose rows leave ground between them, or hide one another, at the worst place."""
    for layer, motifs in by_layer(made):
        pieces = [(motif, alongside(made.laid, motif)) for motif in motifs]
        for found in (_hidden(made, layer, pieces), _gaping(made, layer, pieces)):
            if found is not None:
                yield found


class _Spot(NamedTuple):
    """One sample ``k`` of a motif's legs: where on the ball, on which motif, and how many threads apart."""

    at: Points
    motif: Motif
    legs: Alongside
    k: int

    @property
    def threads(self) -> float:
        return float(self.legs.apart[self.k] / self.legs.width[self.k])

    @property
    def row(self) -> int:
        return self.motif.rows[int(self.legs.row[self.k])].number


def _gaping(made: Made, layer: int, pieces: Sequence[Piece]) -> Finding | None:
    worst = _widest_bare(made, pieces)
    if worst is None:
        return None
    bare = said(made, made.ball.mm(float(worst.legs.bare[worst.k])))
    sentence = (
        f'Rows of "{made.design.layers[layer].name}" leave up to {bare} of ground between them, most beside row '
        f"{worst.row} at {worst.motif.place}: {_why(worst)}"
    )
    severity: Severity = "care" if worst.threads >= GAPING_CARE else "note"
    return Finding("mid-span gap", severity, sentence, layer, worst.row, worst.motif.place, at=spot(worst.at))


def _why(worst: _Spot) -> str:
    """Why the rows part, and what to do: long spans drift, or the bites step further than a thread is wide."""
    leg = worst.legs.leg == worst.legs.leg[worst.k]
    drift = 1 / np.cos(min(float(worst.legs.length[leg].sum()), 3.0) / 2)
    if drift > 1 and worst.threads - 1 > 2 * (drift - 1):
        return (
            "their bites step further on than the thread is wide. Step less at the bites, take a thicker thread, or "
            "let a later layer cover the gap."
        )
    return (
        "taut thread runs the shortest way, and long spans part between their ends. Draw them together with a tie "
        "stitch, add corners, or let a later layer cover the gap."
    )


def _widest_bare(made: Made, pieces: Sequence[Piece]) -> _Spot | None:
    """The widest of the gaps at which ground shows; motifs that share their rows are all looked at."""
    parts = [
        (other, legs, wide, _moved(legs.middle[wide], motif, other))
        for motif, legs in pieces
        if len(wide := _wide(made, legs))
        for other in made.motifs
        if other.layer == motif.layer and other.rows is motif.rows
    ]
    if not parts:
        return None
    at = np.concatenate([places for *_, places in parts])
    threads = np.concatenate([legs.apart[wide] / legs.width[wide] for _, legs, wide, _ in parts])
    order = np.argsort(-np.round(threads, 6), kind="stable")  # of like places the first
    nth = _first_bare(made, at[order])
    if nth is None:
        return None
    spots = [(motif, legs, k) for motif, legs, wide, _ in parts for k in wide.tolist()]
    return _Spot(at[order[nth]], *spots[order[nth]])


def _wide(made: Made, legs: Alongside) -> NDArray[np.intp]:
    """(w,) the samples where ground would be seen between two rows."""
    seen = legs.bare >= made.ball.angle(SEEN_MM)
    return np.flatnonzero(seen & (legs.apart >= GAPING_NOTE * legs.width))


def _first_bare(made: Made, places: Points) -> int | None:
    """The first of ``places`` (n, 3) that no thread covers."""
    for first in range(0, len(places), AT_A_TIME):
        bare = np.flatnonzero(top(made.laid, places[first : first + AT_A_TIME]).arc < 0)
        if len(bare):
            return first + int(bare[0])
    return None


def _moved(points: Points, own: Motif, other: Motif) -> Points:
    """``points`` on one motif as they lie on another that has the same rows."""
    return np.asarray(points @ own.frame @ other.frame.T)


def _hidden(made: Made, layer: int, pieces: Sequence[Piece]) -> Finding | None:
    """The leg of which least is to be seen, where its next row lies on it along most of its way.

    Threads led between keeper pins are drawn together on purpose.
    """
    worst = min(
        (one for motif, legs in pieces if not motif.rows[0].via for one in _narrowed(motif, legs)),
        key=lambda one: one.threads,
        default=None,
    )
    if worst is None:
        return None
    apart = said(made, made.ball.mm(float(worst.legs.apart[worst.k])))
    hides = "hides" if worst.threads < HIDDEN else "narrows"
    sentence = (
        f'Row {worst.row} of "{made.design.layers[layer].name}" {hides} the row it lies beside, at '
        f"{worst.motif.place}: along most of a leg they are only {apart} apart from middle to middle. "
        "Step further at the bites, or leave the hidden row out."
    )
    severity: Severity = "care" if worst.threads < HIDDEN else "note"
    return Finding("hidden row", severity, sentence, layer, worst.row, worst.motif.place, at=spot(worst.at))


def _narrowed(motif: Motif, legs: Alongside) -> Iterator[_Spot]:
    """The middle sample of each leg that leaves less than ``NARROWED`` of its like to be seen along most of its way."""
    if not len(legs):
        return
    threads = legs.apart / legs.width
    for leg in np.unique(legs.leg[threads < NARROWED]).tolist():
        mine = np.flatnonzero(legs.leg == leg)
        k = int(mine[_weighted(threads[mine], legs.length[mine])])
        if threads[k] < NARROWED:
            yield _Spot(legs.at[k], motif, legs, k)


def _weighted(values: Angles, weights: Angles) -> NDArray[np.intp]:
    """Index of the value below which ``MOST`` of all weight lies."""
    order = np.argsort(values, kind="stable")
    share = np.cumsum(weights[order])
    return np.asarray(order[np.searchsorted(share, MOST * share[-1])])
