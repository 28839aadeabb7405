"""Rows on rows: threads piled up at one spot, and rows that gape in mid-span.

In: a build.  Out: findings.
"""

from collections.abc import Iterator
from typing import NamedTuple

import numpy as np

from polestitch.checks.finding import Finding, Made, Severity, by_layer, nearest_name, said
from polestitch.sphere.arcs import Angles, arc_angle
from polestitch.stitching.motifs import Motif
from polestitch.stitching.stitches import Row

# Threads on one spot.  Common practice, no source: a heap of ten size-5 threads stands about 5 mm high.
PILED_NOTE, PILED_CARE = 8, 14
# How much wider than at its ends two rows may gape in mid-span; a tenth can be seen, so these are plain to see.
GAPING_NOTE, GAPING_CARE = 1.25, 1.5


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
    yield Finding("build-up", "care" if most > PILED_CARE else "note", sentence, address=name)


def mid_span_gap(width: Angles, span: Angles) -> Angles:
    """How far apart two rows lie in mid-span: tan g = tan w / cos(L / 2), all in radians.

    ``width`` is their distance at the ends, square to them, ``span`` the length from bite to bite; two
    great circles that keep a distance at both ends part between them.
    """
    return np.asarray(np.arctan2(np.tan(width), np.cos(span / 2)))


class _Gape(NamedTuple):
    ratio: float
    bare: float
    row: Row
    motif: Motif


def gaping_rows(made: Made) -> Iterator[Finding]:
    """Layers whose rows lie side by side at the corners and part in mid-span."""
    for layer, motifs in by_layer(made):
        gapes = [gape for motif in motifs for gape in _gapes(motif)]
        worst = max(gapes, key=lambda gape: gape.ratio, default=None)
        if worst is None or worst.ratio < GAPING_NOTE:
            continue
        bare = said(made, made.ball.mm(worst.bare))
        sentence = (
            f'Rows of "{made.design.layers[layer].name}" touch at their corners but leave {bare} of ground in '
            "mid-span, because taut thread runs the shortest way and long spans part. "
            "Draw them together with a tie stitch, add corners, or let a later layer cover the gap."
        )
        severity: Severity = "care" if worst.ratio > GAPING_CARE else "note"
        yield Finding("mid-span gap", severity, sentence, layer, worst.row.number, worst.motif.place)


def _gapes(motif: Motif) -> Iterator[_Gape]:
    """Every row but the first, at the longest stretch where it leans on nothing.

    At a narrow tip that begins where the strand's first tip stands: as far as there the legs lean on
    the tips between.
    """
    first = {row.strand: row for row in reversed(motif.rows)}
    for row in motif.rows[1:]:
        if row.turn is not None or motif.site.kind == "circle" or row is first[row.strand]:
            continue
        ends = np.where(row.narrow[:, None], first[row.strand].places, row.places)
        span = float(arc_angle(ends, np.roll(ends, -1, axis=0)).max())
        gap = float(mid_span_gap(np.asarray(row.pitch), np.asarray(span)))
        yield _Gape(gap / row.pitch, gap - row.pitch, row, motif)
