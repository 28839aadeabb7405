"""Words and numbers on a chart: guideline names, the order of the first row, names of points.

In: a ``View``, the drawn threads and the room left.  Out: marks.
"""

import math

import numpy as np

from polestitch.sheets.chart_view import View
from polestitch.sheets.lettering import text_box, width_mm
from polestitch.sheets.placing import Room, beside
from polestitch.sheets.sheet import BRASS, INK, MM_PER_POINT, QUIET, WHITE, Circle, Mark, Path, Pen, Text, rectangle
from polestitch.sheets.threads import Threads
from polestitch.sphere.arcs import arc_angle

NAMES = 8.0  # room for guideline names outside the outer circle
NUMBER, RING = Text(0, 0, "", "sans bold", 6.5), 1.9
OFFSETS = (2.9, 3.8, 4.8)


def spoke_names(view: View, room: Room) -> list[Mark]:
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


def numbers(view: View, drawn: Threads, room: Room) -> list[Mark]:
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


def _name_places(view: View, name: str, spot: tuple[float, float], drawn: Threads) -> list[Text]:
    """Places for a point's name: above, below or beside it, inside the outer circle."""
    text = Text(0, 0, name, "sans", 6.5, colour=QUIET)
    half = width_mm(name, "sans", 6.5) / 2
    ways = [(0.0, -2.2), (0.0, 2.2), (half + 1.4, 0.0), (-half - 1.4, 0.0), (half + 0.8, 2.0), (-half - 0.8, 2.0)]
    inside = [
        (dx, dy) for dx, dy in ways if math.hypot(abs(spot[0] + dx) + half, abs(spot[1] + dy) + 1.2) < view.radius
    ]
    return beside(text, spot, inside, drawn.spots)


def point_names(view: View, drawn: Threads, room: Room) -> list[Mark]:
    """Other named points in the picture, as pins with their names where there is room."""
    marks: list[Mark] = []
    for point in view.build.marking.points:
        away = float(arc_angle(point.at, view.motif.middle))
        if away > view.lens.reach + 1e-9 or away < 1e-9:
            continue
        x, y = view.spot(point.at)
        marks.append(Circle(x, y, 0.45, None, BRASS))
        found = None if point.kind == "obi" else room.first_free(_name_places(view, point.name, (x, y), drawn))
        if found is not None:
            marks += [_halo(found), found]
    return marks
