"""The flat chart of one motif round a centre or an arc: thread, stitch order, lines, distances, place.

In: a ``Build`` and one of its motifs.  Out: a block as wide as the page's column.
Distances and directions from the middle are true, so a ruler laid from it reads the ball.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

import numpy as np

from polestitch.pipeline import Build
from polestitch.sheets.blocks import Block
from polestitch.sheets.curves import curve_of, guide_curve, paths, ring
from polestitch.sheets.globe import globe
from polestitch.sheets.ladder import Rung, ladder
from polestitch.sheets.lenses import FlatLens, scale_for, scale_words
from polestitch.sheets.lettering import lines, text_box, width_mm
from polestitch.sheets.placing import Room, beside
from polestitch.sheets.sheet import (
    BRASS,
    INK,
    MM_PER_POINT,
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
    rectangle,
)
from polestitch.sheets.threads import FIRST_ROW, LATER_ROW, Threads, motif_arcs, threads
from polestitch.sphere.arcs import Points, arc_angle
from polestitch.stitching.motifs import Motif

RADIUS = 63.0  # most paper a chart takes from its middle
NAMES = 8.0  # room for guideline names outside the outer circle
GUIDE, SUPPORT = Pen(BRASS, 0.13), Pen(BRASS, 0.13, (1.2, 0.8))
PALE = Pen("#9a9da3", LATER_ROW)
NUMBER, RING = Text(0, 0, "", "sans bold", 6.5), 1.9
OFFSETS = (2.9, 3.8, 4.8)


@dataclass(frozen=True, eq=False)
class View:
    """One motif as it is seen on its chart."""

    build: Build
    motif: Motif
    lens: FlatLens
    scale: Fraction
    outer: str  # what the outer circle is

    @property
    def radius(self) -> float:
        """Paper radius of the outer circle."""
        return self.lens.reach * self.lens.mm

    def spot(self, point: Points) -> tuple[float, float]:
        """One point on paper."""
        x, y = self.lens.paper(point[None])[0].tolist()
        return x, y


def view_of(build: Build, motif: Motif) -> View:
    """The lens, scale and outer circle that suit the motif."""
    middle, up = motif.middle, motif.frame[:, 0]
    extent = _extent(build, motif)
    edge = float(max(motif.site.reaches, default=0.0))
    pole = abs(float(middle[2])) > 1 - 1e-9 and "C" not in build.marking.division
    reach, outer = _outer(build, motif, extent, edge, pole)
    scale = scale_for(build.ball.mm(reach), RADIUS)
    return View(build, motif, FlatLens(middle, up, build.ball.radius_mm * float(scale), reach), scale, outer)


def _outer(build: Build, motif: Motif, extent: float, edge: float, pole: bool) -> tuple[float, str]:
    """How far the chart reaches, and the name of the circle there."""
    if motif.site.kind == "centre" and extent <= edge + 1e-6:
        if pole:
            return edge, "obi"
        return edge, f"face edge, {build.ball.mm(edge):.1f} mm from {motif.place}"
    reach = min(extent + build.ball.angle(7.0), 2.9)
    return reach, f"{build.ball.mm(reach):.1f} mm from the middle"


def _extent(build: Build, motif: Motif) -> float:
    """How far the motif's thread gets from its middle."""
    far = [0.0]
    for arc in motif_arcs(build, motif).tolist():
        curve = curve_of(build.laid, arc)
        far.append(float(arc_angle(curve.at(np.linspace(0, curve.sweep, 9)), motif.middle).max()))
    return max(far)


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
        *_spoke_names(view, room),
        *_numbers(view, drawn, room),
        *_points(view, drawn, room),
    )
    side = x + view.radius + NAMES + 1.0
    aside = (
        *moved(ladder(_rungs(view), build.ball.around_mm, float(view.scale), view.radius), side, y),
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
    enters, leaves = (view.lens.paper(points @ view.motif.frame.T) for points in (row.enters, row.leaves))
    marks: list[Mark] = [
        Line(x1, y1, x2, y2, Pen(INK, 0.3, (0.35, 0.3))) for x1, y1, x2, y2 in np.hstack([enters, leaves]).tolist()
    ]
    ahead = [*range(1, len(enters)), 0]
    for k in range(min(3, len(enters))):
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


def _spoke_names(view: View, room: Room) -> list[Mark]:
    """Guideline names outside the outer circle, and what that circle is."""
    marks: list[Mark] = []
    for k, azimuth in enumerate(view.motif.site.azimuths.tolist()):
        x, y = _outside(view, azimuth, view.radius + (2.6 if k == 0 else 3.4))
        mark = Text(x, y + 0.9, _name(view, k), "sans bold" if k == 0 else "sans", 7.5, "middle", BRASS)
        if room.free(mark):
            marks.append(room.take(mark))
    corner = Text(-view.radius - NAMES, view.radius + 4.5, f"Outer circle: {view.outer}", "sans", 7.5, colour=QUIET)
    return [*marks, room.take(corner)]


def _name(view: View, k: int) -> str:
    """A guideline's number, the first with its word; on an arc the point it leads to."""
    site = view.motif.site
    if site.kind == "arc":
        azimuth = float(site.azimuths[k])
        way = math.cos(azimuth) * view.motif.frame[:, 0] + math.sin(azimuth) * view.motif.frame[:, 1]
        end = math.cos(site.reaches[k]) * view.motif.middle + math.sin(site.reaches[k]) * way
        names = [point.name for point in view.build.marking.points if float(arc_angle(point.at, end)) < 1e-6]
        return f"to {names[0]}" if names else ""
    return f"line {site.numbers[k]}" if k == 0 else str(site.numbers[k])


def _outside(view: View, azimuth: float, distance: float) -> tuple[float, float]:
    """A place on paper in the direction of ``azimuth`` of the motif's own frame."""
    heading = math.cos(azimuth) * view.motif.frame[:, 0] + math.sin(azimuth) * view.motif.frame[:, 1]
    x, y = view.spot(math.cos(0.1) * view.motif.middle + math.sin(0.1) * heading)
    far = math.hypot(x, y)
    return x / far * distance, y / far * distance


def _numbers(view: View, drawn: Threads, room: Room) -> list[Mark]:
    """The order of the first row's bites: on their guidelines just beyond the thread, else beside their points."""
    places = view.lens.paper(view.motif.rows[0].places @ view.motif.frame.T)
    marks: list[Mark] = []
    for number, place in enumerate(places, 1):
        text = Text(0, 0, str(number), NUMBER.face, NUMBER.size)
        far = float(np.hypot(*place))
        out = place / far if far > 1e-6 else np.array([0.0, -1.0])
        wishes = [*_beyond(view, drawn, out, text), *_near(drawn, place, out, text)]
        found = room.first_free(wishes)
        if found is not None:
            marks += [_disc(found), found]
    return marks


def _disc(mark: Text) -> Circle:
    """The ring that tells a number of the order from a guideline's."""
    return Circle(mark.x, mark.y - 0.34 * mark.size * MM_PER_POINT, RING, Pen(INK, 0.15), WHITE)


def _beyond(view: View, drawn: Threads, out: np.ndarray, text: Text) -> list[Text]:
    """``text`` on the way ``out`` past the last thread there, if that is still inside the outer circle."""
    along = drawn.spots @ out
    near = (np.abs(drawn.spots @ np.array([-out[1], out[0]])) < 1.4) & (along > 0)
    far = float(along[near].max(initial=0.0)) + 3.0
    return beside(text, far * out, ((0.0, 0.0),), np.zeros((0, 2))) if far < view.radius - 2.2 else []


def _near(drawn: Threads, place: np.ndarray, out: np.ndarray, text: Text) -> list[Text]:
    """``text`` close round ``place``, where the first row leaves most room."""
    turns = [_turned((out[0], out[1]), math.radians(angle)) for angle in (180, 0, 90, -90, 135, -135, 45, -45)]
    ways = [(dx * off, dy * off) for off in OFFSETS for dx, dy in turns]
    return beside(text, place, ways, drawn.spots[drawn.first_row])


def _halo(mark: Text) -> Path:
    """White behind a label, so that lines under it stop short of it."""
    left, top, right, bottom = text_box(mark)
    return rectangle((left - 0.4, top - 0.3, right + 0.4, bottom), None, WHITE)


def _turned(way: tuple[float, float], angle: float) -> tuple[float, float]:
    c, s = math.cos(angle), math.sin(angle)
    return way[0] * c - way[1] * s, way[0] * s + way[1] * c


def _point_names(view: View, name: str, spot: tuple[float, float], drawn: Threads) -> list[Text]:
    """Places for a point's name: above, below or beside it, inside the outer circle."""
    text = Text(0, 0, name, "sans", 6.5, colour=QUIET)
    half = width_mm(name, "sans", 6.5) / 2
    ways = [(0.0, -2.2), (0.0, 2.2), (half + 1.4, 0.0), (-half - 1.4, 0.0), (half + 0.8, 2.0), (-half - 0.8, 2.0)]
    inside = [
        (dx, dy) for dx, dy in ways if math.hypot(abs(spot[0] + dx) + half, abs(spot[1] + dy) + 1.2) < view.radius
    ]
    return beside(text, spot, inside, drawn.spots)


def _points(view: View, drawn: Threads, room: Room) -> list[Mark]:
    """Other named points in the picture, as pins with their names where there is room."""
    marks: list[Mark] = []
    for point in view.build.marking.points:
        away = float(arc_angle(point.at, view.motif.middle))
        if away > view.lens.reach + 1e-9 or away < 1e-9:
            continue
        x, y = view.spot(point.at)
        marks.append(Circle(x, y, 0.45, None, BRASS))
        found = None if point.kind == "obi" else room.first_free(_point_names(view, point.name, (x, y), drawn))
        if found is not None:
            marks += [_halo(found), found]
    return marks


def _rungs(view: View) -> list[Rung]:
    """What the ladder shows: first and last bites, and the end of the guideline."""
    ball, rows, motif = view.build.ball, view.motif.rows, view.motif
    rungs = [Rung(motif.place if motif.site.kind == "centre" else "middle", 0.0, BRASS)]
    edge = float(max(motif.site.reaches, default=0.0))
    if edge <= view.lens.reach + 1e-9:
        rungs.append(Rung(view.outer.split(",")[0], ball.mm(edge), BRASS))
    last, corner = rows[-1].number, "tip" if motif.site.kind == "arc" else "corner"
    for row in (rows[0], *(rows[-1:] if last > 1 else [])):
        found = _distances(row.places)
        words = ("inner bite", "outer tip") if len(found) == 2 else (corner,) * len(found)
        rungs += [Rung(f"{word}, row {row.number}", ball.mm(far)) for word, far in zip(words, found)]
    return rungs


def _distances(places: Points) -> list[float]:
    """The different distances of a row's bites from the middle, nearest first."""
    far = np.sort(np.arctan2(np.hypot(places[:, 0], places[:, 1]), places[:, 2]))
    return [float(d) for k, d in enumerate(far) if k == 0 or d - far[k - 1] > 2e-3]


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
