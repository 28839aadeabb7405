"""The chart of a motif that runs along a circle: a band of turns, or a zigzag over one, unrolled.

In: a ``Build`` and one of its motifs.  Out: a block.  Along the circle lengths are true (times the scale).
"""

from dataclasses import dataclass
from fractions import Fraction

import numpy as np

from polestitch.pipeline import Build
from polestitch.sheets.blocks import Block
from polestitch.sheets.curves import curve_of, guide_curve, paths, ring
from polestitch.sheets.globe import globe
from polestitch.sheets.lenses import RolledLens, scale_words
from polestitch.sheets.placing import Room, beside
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
    rectangle,
)
from polestitch.sheets.strip_column import spread
from polestitch.sheets.threads import motif_arcs, row_pen, threads
from polestitch.stitching.motifs import Motif
from polestitch.stitching.stitches import Row

LENGTH = 104.0  # paper mm of circle shown
LEFT = 22.0  # room for the turns' numbers
NUMBER_PITCH = 2.9
SCALES = (Fraction(3), Fraction(2), Fraction(1))
TALLEST = 60.0


@dataclass(frozen=True, eq=False)
class Band:
    """One motif along a circle as its chart shows it."""

    build: Build
    motif: Motif
    lens: RolledLens
    scale: Fraction

    @property
    def half(self) -> float:
        """Paper mm from the circle to the chart's upper edge."""
        return self.lens.half_height * self.lens.mm


def band_chart(build: Build, motif: Motif) -> Block:
    """The stretch round the start, every turn or bite numbered, with the globe beside it."""
    band = _band(build, motif)
    drawn = threads(build, motif, band.lens, band.lens.mm)
    named = _numbers(band) if motif.rows[0].turn is None else _turns(band)
    marks = moved((*_ground(band), *drawn.marks, *named), LEFT + LENGTH / 2, band.half + 6.0)
    side = LEFT + LENGTH + 32.0
    aside = moved((*_globe(band), *_words(band)), side, 17.0)
    return Block(max(2 * band.half + 15.0, 46.0), (*marks, *aside))


def _band(build: Build, motif: Motif) -> Band:
    """The largest scale at which the whole width shows."""
    half = _half_width(build, motif) + build.ball.angle(2.5)
    scale = next((s for s in SCALES if 2 * build.ball.mm(half) * s <= TALLEST), Fraction(1))
    mm = build.ball.radius_mm * float(scale)
    length = min(LENGTH / 2 / mm, 3.0)
    return Band(build, motif, RolledLens(motif.middle, motif.frame[:, 0], mm, length, half), scale)


def _half_width(build: Build, motif: Motif) -> float:
    """How far the thread gets from the circle."""
    away = [0.0]
    for arc in motif_arcs(build, motif).tolist():
        curve = curve_of(build.laid, arc)
        away.append(float(np.abs(np.arcsin(curve.at(np.linspace(0, curve.sweep, 9)) @ motif.middle)).max()))
    return max(away)


def _ground(band: Band) -> list[Mark]:
    """Frame, guidelines that cross, and the circle itself."""
    width = band.lens.half_length * band.lens.mm
    marks: list[Mark] = [rectangle((-width, -band.half, width, band.half), Pen(INK, 0.3), WHITE)]
    for line in band.build.marking.guidelines:
        marks += paths(guide_curve(line), band.lens, Pen(BRASS, 0.13, (1.2, 0.8) if line.support else ()))
    marks.append(Line(-width, 0.0, width, 0.0, Pen(BRASS, 0.25)))
    marks.append(
        Text(-width, band.half + 4.0, f"The line along the middle: {band.motif.place}", "sans", 7.5, colour=QUIET)
    )
    return [*marks, *_lines_named(band), *_heights(band, width)]


def _heights(band: Band, right: float) -> list[Mark]:
    """How far the outermost thread, or the bites, stand from the circle: at the right edge."""
    ball, rows = band.build.ball, band.motif.rows
    heights = [_height(row) for row in rows] if rows[0].turn else np.arcsin(rows[0].places[:, 2]).tolist()
    told = {0.0, round(max(heights), 6), round(min(heights), 6)}
    marks: list[Mark] = []
    wanted = sorted(-height * band.lens.mm for height in told)
    for y, at in zip(spread(wanted, NUMBER_PITCH, -band.half, band.half), wanted):
        marks.append(Path((right + 0.3, at), ((right + 1.8, at), (right + 3.0, y)), Pen(QUIET, 0.12)))
        marks.append(Text(right + 3.8, y + 0.9, f"{abs(ball.mm(at / band.lens.mm)):.1f} mm", "sans", 7.5, colour=INK))
    return marks


def _lines_named(band: Band) -> list[Mark]:
    """Names of the guidelines above the frame."""
    room, site, frame = Room(), band.motif.site, band.motif.frame
    marks: list[Mark] = []
    for azimuth, number in sorted(
        zip(site.azimuths.tolist(), site.numbers), key=lambda pair: pair[1] != site.numbers[0]
    ):
        spot = np.cos(azimuth) * frame[:, 0] + np.sin(azimuth) * frame[:, 1]
        x = float(band.lens.paper(spot[None])[0, 0])
        first = number == site.numbers[0]
        words = f"line {number}" if first else str(number)
        mark = Text(x, -band.half - 1.6, words, "sans bold" if first else "sans", 7.5, "middle", BRASS)
        if bool(band.lens.shows(spot[None])[0]) and room.free(mark):
            marks.append(room.take(mark))
    return marks


def _turns(band: Band) -> list[Mark]:
    """The turns in the order they are wound, at the left edge; every second or third where there is no room."""
    rows = sorted(band.motif.rows, key=_height, reverse=True)
    rows = rows[:: -(-len(rows) // int((2 * band.half + 9.0) / NUMBER_PITCH))]
    left = -band.lens.half_length * band.lens.mm
    wanted = [-_height(row) * band.lens.mm for row in rows]
    places = spread(wanted, NUMBER_PITCH, -band.half - 3.0, band.half + 6.0)
    marks: list[Mark] = []
    for row, at, y in zip(rows, wanted, places):
        pen = row_pen(band.build, band.motif, row.number, band.motif.threads[band.motif.rows.index(row)])
        marks.append(Path((left - 0.4, at), ((left - 2.0, at), (left - 4.5, y)), Pen(QUIET, 0.12)))
        x = left - 6.8
        marks.append(Text(x, y + 0.85, str(row.number), "sans bold", 7, "middle", INK))
        marks.append(Line(x - 5.5, y, x - 2.2, y, Pen(pen.colour, 0.7)))
    return marks


def _height(row: Row) -> float:
    """Radians of a wound turn above its circle; both poles of motif and chart point the same way."""
    return 0.0 if row.turn is None else float(np.arcsin(row.turn.offset) * np.sign(row.turn.normal[2]))


def _numbers(band: Band) -> list[Mark]:
    """The order of the first row's bites, as far as the chart shows them."""
    row, room = band.motif.rows[0], Room()
    places = row.places @ band.motif.frame.T
    marks: list[Mark] = []
    for number, (place, spot) in enumerate(zip(places, band.lens.paper(places)), 1):
        if not bool(band.lens.shows(place[None])[0]):
            continue
        away = -2.6 if spot[1] < 0 else 2.6
        wish = beside(Text(0, 0, str(number), "sans bold", 6.5), spot, ((0.0, away), (2.4, away)), np.zeros((0, 2)))
        found = room.first_free(wish)
        if found is not None:
            marks += [Circle(found.x, found.y - 0.78, 1.9, Pen(INK, 0.15), WHITE), found]
    return marks


def _globe(band: Band) -> tuple[Mark, ...]:
    motif = band.motif
    circle = ring(motif.middle, np.pi / 2, motif.frame[:, 0])
    return globe(band.build.marking, motif.frame[:, 0] + 0.45 * motif.middle, (), (circle,))


def _words(band: Band) -> tuple[Mark, ...]:
    what = "Numbers: order of the turns." if band.motif.rows[0].turn is not None else "Numbers: order of the bites."
    said = (what, f"At {scale_words(band.scale)}.")
    return tuple(Text(-13.0, 20.0 + 3.4 * k, line, "sans", 7.5, colour=QUIET) for k, line in enumerate(said))
