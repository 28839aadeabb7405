"""The flat chart of one motif round a centre or an arc: thread, stitch order, lines, distances, place.

In: a ``Build`` and one of its motifs.  Out: a block as wide as the page's column.
Distances and directions from the middle are true, so a ruler laid from it reads the ball.
"""

from collections.abc import Sequence

import numpy as np

from polestitch.pipeline import Build
from polestitch.sheets.blocks import Block
from polestitch.sheets.chart_labels import NAMES, numbers, point_names, spoke_names
from polestitch.sheets.chart_view import View, view_of
from polestitch.sheets.curves import curve_of, guide_curve, paths, ring
from polestitch.sheets.globe import globe
from polestitch.sheets.ladder import Rung, ladder
from polestitch.sheets.lenses import scale_words
from polestitch.sheets.lettering import lines
from polestitch.sheets.placing import Room
from polestitch.sheets.sheet import (
    BRASS,
    INK,
    QUIET,
    WHITE,
    Circle,
    Line,
    Mark,
    Path,
    Pen,
    Text,
    moved,
    polygon,
)
from polestitch.sheets.threads import FIRST_ROW, LATER_ROW, motif_arcs, threads
from polestitch.steps.corners import kinds_of
from polestitch.stitching.motifs import Motif
from polestitch.stitching.stitches import Row

GUIDE, SUPPORT = Pen(BRASS, 0.13), Pen(BRASS, 0.13, (1.2, 0.8))
MOST_RUNGS = 4  # of one row: more would be no ladder
PALE = Pen("#9a9da3", LATER_ROW)


def chart(build: Build, motif: Motif) -> Block:
    """The whole chart with ladder, globe and key: 180 mm wide at most."""
    view = view_of(build, motif)
    drawn = threads(build, motif, view.lens, view.lens.mm)
    room = Room()
    x, y = view.radius + NAMES, view.radius + NAMES - 2.0
    marks = (
        *_ground(view),
        *drawn.marks,
        *_start(view),
        *spoke_names(view, room),
        *numbers(view, drawn, room),
        *point_names(view, drawn, room),
    )
    side = x + view.radius + NAMES + 1.0
    aside = (
        *moved(ladder(_rungs(view), build, float(view.scale), view.radius), side, y),
        *moved(_place(view), side + 14.0, y + 24.0),
        *moved(_key(view), side - 1.0, y + 45.0),
    )
    height = max(2 * view.radius + 2 * NAMES - 1.0, y + 75.0)
    return Block(height, (*moved(marks, x, y), *aside))


def _ground(view: View) -> list[Mark]:
    """Outer circle, guidelines and the middle."""
    marks: list[Mark] = [Circle(0.0, 0.0, view.radius, Pen(INK, 0.3), WHITE)]
    for line in view.build.marking.guidelines:
        marks += paths(guide_curve(line), view.lens, SUPPORT if line.support else GUIDE)
    return [*marks, Circle(0.0, 0.0, 0.5, None, BRASS)]


def _start(view: View) -> list[Mark]:
    """Where the thread comes up, bites as dashes under the guideline, and the way the first spans run."""
    row = view.motif.rows[0]
    if row.turn is not None:
        at = (view.motif.frame @ row.turn.start)[None]
        spots = view.lens.paper(at[view.lens.shows(at)]).tolist()
        return [Circle(x, y, 0.75, Pen(INK, 0.3), WHITE) for x, y in spots]
    shown = np.flatnonzero(view.lens.shows(row.enters @ view.motif.frame.T))
    enters, leaves = (view.lens.paper(points @ view.motif.frame.T) for points in (row.enters, row.leaves))
    marks: list[Mark] = [
        Line(x1, y1, x2, y2, Pen(INK, 0.3, (0.35, 0.3)))
        for x1, y1, x2, y2 in np.hstack([enters, leaves])[shown].tolist()
    ]
    ahead = [*range(1, len(enters)), 0]
    for k in range(min(3, len(enters))):
        if ahead[k] in shown:
            marks.append(_arrow(leaves[k], enters[ahead[k]]))
    x, y = leaves[0].tolist()
    return [*marks, Circle(x, y, 0.75, Pen(INK, 0.3), WHITE)]


def _arrow(a: np.ndarray, b: np.ndarray) -> Path:
    """A small head a third of the way from ``a`` to ``b``."""
    along = (b - a) / max(float(np.hypot(*(b - a))), 1e-9)
    across = np.array([-along[1], along[0]])
    tip = a + (b - a) * 0.36
    corners = (tip, tip - 2.2 * along + 0.75 * across, tip - 1.6 * along, tip - 2.2 * along - 0.75 * across)
    return polygon([(float(x), float(y)) for x, y in corners], None, INK)


def _rungs(view: View) -> list[Rung]:
    """What the ladder shows: first and last bites, and the end of the guideline."""
    ball, rows, motif = view.build.ball, view.motif.rows, view.motif
    rungs = [Rung(motif.place if motif.site.kind == "centre" else "middle", 0.0, BRASS)]
    edge = float(max(motif.site.reaches, default=0.0))
    if edge <= view.lens.reach + 1e-9:
        at_rim = abs(edge - view.lens.reach) < 1e-9
        rungs.append(Rung(view.outer.split(",")[0] if at_rim else "end of the line", ball.mm(edge), BRASS))
    for row in (rows[0], *(rows[-1:] if rows[-1].number > 1 else [])):
        rungs += [Rung(f"{kind}, row {row.number}", ball.mm(far)) for far, kind in _distances(view, row)[:MOST_RUNGS]]
    return rungs


def _distances(view: View, row: Row) -> list[tuple[float, str]]:
    """The different distances of a row's bites on the chart from the middle, nearest first, and their names."""
    away = np.arctan2(np.hypot(row.places[:, 0], row.places[:, 1]), row.places[:, 2])
    shown = view.lens.shows(row.places @ view.motif.frame.T)
    far = sorted(told for told, on in zip(zip(away.tolist(), kinds_of(view.motif, row)), shown) if on)
    return [told for k, told in enumerate(far) if k == 0 or told[0] - far[k - 1][0] > 2e-3]


def _place(view: View) -> tuple[Mark, ...]:
    """The globe with the chart's outer circle on it."""
    motif = view.motif
    laid, arcs = view.build.laid, motif_arcs(view.build, motif)
    first = arcs[laid.row_number[laid.arc_row[arcs]] == 1]
    rim = (ring(motif.middle, view.lens.reach, motif.frame[:, 0]),) if motif.site.kind == "centre" else ()
    return globe(view.build.marking, motif.middle, rim, [curve_of(laid, k) for k in first.tolist()])


def _key(view: View) -> tuple[Mark, ...]:
    """How to read the chart."""
    under = (Line(0.0, -0.9, 2.2, -0.9, PALE), Line(3.8, -0.9, 6.0, -0.9, PALE), Line(3.0, -2.3, 3.0, 0.5, PALE))
    signs: Sequence[tuple[tuple[Mark, ...], str]] = (
        ((Line(0.0, -0.9, 6.0, -0.9, Pen(INK, FIRST_ROW)),), "first row"),
        ((Line(0.0, -0.9, 6.0, -0.9, PALE),), "later rows, paler"),
        (under, "a gap: goes under"),
        ((Circle(3.0, -0.9, 0.75, Pen(INK, 0.3), WHITE),), "comes up here"),
        (
            (Circle(3.0, -0.9, 1.7, Pen(INK, 0.15)), Text(3.0, -0.1, "1", "sans bold", 6.5, "middle")),
            "order, first row",
        ),
    )
    marks: list[Mark] = []
    for k, (sign, words) in enumerate(signs):
        marks += [*moved(sign, 0.0, k * 4.2), Text(8.0, k * 4.2, words, "sans", 7.5, colour=QUIET)]
    scale = lines(f"Drawn at {scale_words(view.scale)}. C is the whole strip.", "sans", 7.5, 34.0)
    marks += [Text(0.0, 22.4 + 3.4 * k, line, "sans", 7.5, colour=QUIET) for k, line in enumerate(scale)]
    return tuple(marks)
