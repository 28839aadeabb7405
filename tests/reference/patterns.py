"""Published patterns with a size, a start, a row count and an end, as the model stitches them.

In: nothing.  Out: ``PATTERNS``.  Where a page leaves something open, what was taken stands in ``says``.
Addresses on temarikai.com are given from /PatternsPages on.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.optimize import brentq

from polestitch.ball.ball import Ball
from polestitch.document.lengths import Length
from polestitch.laying.settle import settled
from polestitch.marking.divisions import marked
from polestitch.sphere.arcs import between
from polestitch.stitching.site import Kind, Site
from polestitch.stitching.stitches import Row
from polestitch.stitching.techniques import polygon, spindle, star, uwagake

Floats = NDArray[np.float64]
# As the gauges pack them (temarikai.com/ResourcesPages/threadgauges.html), mm.
PEARL_5, FLOSS_2 = 10 / 14, 2 / 3
STRETCH_MM, BITE_MM = 2.0, 1.5
# C10, as shares of C: centre to next centre, to triangle and to the middle of a side (Coxeter's icosahedron);
# C8: centre to triangle and to the middle of a band through the middles of two sides.
NEXT_CENTRE, TRIANGLE, SIDE = 63.4349488229 / 360, 37.3773681406 / 360, 31.7174744115 / 360
C8_TRIANGLE, C8_SIDE, C8_BAND = 54.7356103172 / 360, 45 / 360, 35.2643896828 / 360
ALMOST_MM = 2.0  # what "almost" and ground that shows are taken as


@dataclass(frozen=True)
class Pattern:
    """One published count.

    ``gone(pitch_mm, stretch_mm, rows)`` (rows,) is how far each row has come, mm, growing; ``end(pitch_mm)`` how far
    the pattern lets the last one come.
    """

    name: str
    source: str
    says: str
    packed_mm: float  # the thread's pitch by the gauge
    rows: int
    gone: Callable[[float, float, int], Floats]
    end: Callable[[float], float]

    def fits(self, pitch_mm: float, stretch_mm: float = STRETCH_MM) -> float:
        """How many rows the model says come to the pattern's end, as a real number."""
        # Rows inward come out again beyond the middle: what is once over the end stays over it.
        gone = np.maximum.accumulate(self.gone(pitch_mm, stretch_mm, 2 * self.rows + 10))
        most = self.end(pitch_mm)
        numbers = np.arange(1, len(gone) + 1)
        return float(np.interp(most, gone, numbers, right=np.inf))

    def step_mm(self) -> float:
        """What one row takes where the published rows just come to the published end, thread packed as by the gauge."""
        start = self.gone(self.packed_mm, STRETCH_MM, 1)[0]
        return float(self.end(self.packed_mm) - start) / (self.rows - 1)

    def pitch_mm(self, stretch_mm: float = STRETCH_MM) -> float | None:
        """The pitch for which the last published row just ends there; None where no pitch does."""

        def over(pitch: float) -> float:
            return float(self.gone(pitch, stretch_mm, self.rows)[-1]) - self.end(pitch)

        try:
            return float(brentq(over, 0.3, 1.9, xtol=1e-6))
        except ValueError:
            return None


def site_of(kind: str, around_mm: float, reaches: Sequence[float], stretch_mm: float = STRETCH_MM) -> Site:
    """A site with evenly spread guidelines of these reaches."""
    ball, ways = Ball(around_mm), len(reaches)
    azimuths, numbers = np.arange(ways) * 2 * np.pi / ways, tuple(range(1, ways + 1))
    place: Kind = "arc" if kind == "arc" else "centre"
    return Site(place, ball, azimuths, np.array(reaches), numbers, ball.angle(stretch_mm), ball.angle(BITE_MM) / 2)


def reaches_of(division: str, turned: int = 0) -> list[float]:
    """The reaches of the guidelines at N, from the ``turned``-th on."""
    reaches = [spoke.reach for spoke in marked(division).spokes["N"]]
    return reaches[turned:] + reaches[:turned]


def _at(mm: float) -> Length:
    return Length(f"{mm:.6f} mm")


def _tips(site: Site, rows: Sequence[Row]) -> Floats:
    """(rows,) distance of each row's first bite from the middle, mm."""
    return np.array([site.ball.mm(float(np.arccos(row.places[0][2]))) for row in rows])


def _spindle_flank(pitch: float, stretch: float, rows: int) -> Floats:
    """Edge of the outermost thread from the line, where the spindle is widest: ten lines, 23 cm."""
    site = site_of("arc", 230.0, [np.pi / 2] * 2, stretch)
    stitched = list(spindle.stitch(site, spindle.Params(at=Length("1/2 from centre")), [site.ball.angle(pitch)] * rows))
    edges = []
    for thread in settled(stitched):
        chain = thread.chains[0]
        points = np.concatenate([between(chain[:-1], chain[1:], share) for share in np.linspace(0, 1, 33)])
        edges.append(site.ball.mm(float(np.arcsin(np.abs(points[:, 1]).max()))) + pitch / 2)
    return np.array(edges)


def _spindle_tips(around: float) -> Callable[[float, float, int], Floats]:
    def gone(pitch: float, stretch: float, rows: int) -> Floats:
        site = site_of("arc", around, [np.pi / 2] * 2, stretch)
        params = spindle.Params(at=Length("1/2 from centre"))
        return _tips(site, list(spindle.stitch(site, params, [site.ball.angle(pitch)] * rows)))

    return gone


def _star(pitch: float, stretch: float, rows: int) -> Floats:
    site = site_of("centre", 250.0, reaches_of("C10"), stretch)
    params = star.Params(points=5, step=2, at=Length("1.5 from centre"))
    return _tips(site, list(star.stitch(site, params, [site.ball.angle(pitch)] * rows)))


def _pentagon_inward(pitch: float, stretch: float, rows: int) -> Floats:
    """How far rows worked inward have come from the first row's outer edge."""
    site = site_of("centre", 320.0, reaches_of("C10", 1), stretch)
    params = polygon.Params(corners=5, at=Length("1/3 from edge"), grow="inward")
    tips = _tips(site, list(polygon.stitch(site, params, [site.ball.angle(pitch)] * rows)))
    return np.asarray(tips[0] - tips + pitch)


def _small_pentagon(pitch: float, stretch: float, rows: int) -> Floats:
    """Outer edge of each row's side, from the centre."""
    site = site_of("centre", 340.0, reaches_of("C10"), stretch)
    params = polygon.Params(corners=5, at=_at(pitch))
    corners = _tips(site, list(polygon.stitch(site, params, [site.ball.angle(pitch)] * rows)))
    return np.asarray(_side(340.0, corners, np.pi / 5) + pitch / 2)


def _side(around: float, corner: Floats | float, half: float) -> Floats | float:
    """How near a great circle between two corners comes to the middle: tan a = tan R cos(half the angle there)."""
    radius = around / (2 * np.pi)
    return radius * np.arctan(np.tan(corner / radius) * np.cos(half))


def _kiku(
    division: str, around: float, outer: Callable[[float], str], inner: str, long: bool
) -> Callable[[float, float, int], Floats]:
    """Outer tips of a zigzag round a centre; ``long``: they stand on the longer guidelines."""

    def gone(pitch: float, stretch: float, rows: int) -> Floats:
        reaches = reaches_of(division)
        site = site_of("centre", around, reaches_of(division, int((reaches[0] > reaches[1]) != long)), stretch)
        params = uwagake.Params(outer=Length(outer(pitch)), inner=Length(inner))
        return _tips(site, list(uwagake.stitch(site, params, [site.ball.angle(pitch)] * rows)))

    return gone


def _beyond_green(pitch: float) -> str:
    """Where the second layer's first points stand: beside the inner bites of the seven rows before it."""
    site = site_of("centre", 250.0, reaches_of("C10"))
    first = int(reaches_of("C10")[0] > reaches_of("C10")[1])
    params = uwagake.Params(outer=Length("1/2 from centre"), inner=Length("1/4 from centre"), set=1 + first)
    last = list(uwagake.stitch(site, params, [site.ball.angle(pitch)] * 7))[-1]
    return f"{site.ball.mm(float(np.arccos(last.places[1][2]))) + pitch:.6f} mm"


PATTERNS = (
    Pattern(
        "spindles, ten lines, 23 cm, 11 rounds",
        "Simple/SC02.html",
        "22 threads wide, flanks almost reach the midline, C/20 away",
        PEARL_5,
        11,
        _spindle_flank,
        lambda pitch: 230.0 / 20,
    ),
    Pattern(
        "tips of the same spindles",
        "Simple/SC02.html",
        "from half way to the pole until they almost reach it",
        PEARL_5,
        11,
        _spindle_tips(230.0),
        lambda pitch: 230.0 / 4 - ALMOST_MM,
    ),
    Pattern(
        "spindles over a pole, 24 cm, 8 rounds",
        "Simple/GK09.html",
        '"elongated": from half way until they almost reach the equator',
        PEARL_5,
        8,
        _spindle_tips(240.0),
        lambda pitch: 240.0 / 4 - ALMOST_MM,
    ),
    Pattern(
        "five-point stars on C10, 25 cm, 5 rows",
        "C10/GT33.html",
        '"approximately five rows", from half way between border and next centre into that centre, where ground shows',
        PEARL_5,
        5,
        _star,
        lambda pitch: 250.0 * NEXT_CENTRE - ALMOST_MM,
    ),
    Pattern(
        "petals from band to corner on C8, 25 cm, 6 rows",
        "/patterns/tem99st03.html, layer 2",
        "first points outside a band of seven threads, last ones just at the corner; inner bites taken at 2 mm",
        PEARL_5,
        6,
        _kiku("C8", 250.0, lambda pitch: f"{250.0 * C8_BAND + 3.5 * pitch:.6f} mm", "2 mm", long=True),
        lambda pitch: 250.0 * C8_TRIANGLE - pitch / 2,
    ),
    Pattern(
        "petals from half way to the bands on C8, 25 cm, 6 rows",
        "/patterns/tem99st03.html, layer 3",
        "last points just meet the corner of two bands of seven threads; inner bites taken at 2 mm",
        PEARL_5,
        6,
        _kiku("C8", 250.0, lambda pitch: "1/2 from centre", "2 mm", long=False),
        lambda pitch: 250.0 * C8_SIDE - 3.5 * pitch * np.sqrt(2) - pitch / 2,
    ),
    Pattern(
        "petals of two strands on C10, 25 cm, 7 rows",
        "C10/ST01.html, layer 1",
        "inner bites 1/4 out, first points 1/2 out, last ones just at the marking line",
        FLOSS_2,
        7,
        _kiku("C10", 250.0, lambda pitch: "1/2 from centre", "1/4 from centre", long=False),
        lambda pitch: 250.0 * SIDE - pitch / 2,
    ),
    Pattern(
        "petals of two strands to the corners, 25 cm, 12 rows",
        "C10/ST01.html, layer 2",
        "from the outside of layer 1 to the corner; inner bites taken at 1.5 mm",
        FLOSS_2,
        12,
        _kiku("C10", 250.0, _beyond_green, "1.5 mm", long=True),
        lambda pitch: 250.0 * TRIANGLE - pitch / 2,
    ),
    Pattern(
        "pentagons inward on C10, 32 cm, 10 rows",
        "C10/JZ11.html",
        "start one third in from the corner; ten rows cover a little over one third, taken as 5 % over",
        PEARL_5,
        10,
        _pentagon_inward,
        lambda pitch: 320.0 * TRIANGLE / 3 * 1.05,
    ),
    Pattern(
        "small pentagons inside stars on C10, 34 cm, 6 rows",
        "C10/KM02.html",
        '"approx 6 rows"; the star beside them starts 1 cm inside a pentagon through the middles of the sides (taken)',
        PEARL_5,
        6,
        _small_pentagon,
        lambda pitch: float(_side(340.0, 340.0 * SIDE - 10.0, 2 * np.pi / 5)) - pitch / 2,
    ),
)

UNDECIDED = (
    "star, ten lines, 27 cm, 1 + 9 + 1 rows: no end is stated but that twelve turns of obi follow on each side "
    "(japanesetemari.com, red hot star): at most 2.5 mm a row",
    "stars on C10, 29 cm, 6 rows until they touch the triangles (C10Pg3/DR02.html): the start is in a drawing only",
    "stars on C10, 25 cm, until they meet in the centres (C10/GT18.html): four colours, rows not stated",
    "stars on C10, 25 cm, 5 rows to where the petals before them end (C10/ST04.html): the path is in a drawing only",
    "spindles, twelve lines, 24 cm, 8 rounds (Simple/GK09.html): how near the flanks come is not stated",
    "rectangles on C10, 25 cm, 5 rows from '.4 mm' before the corner (C10/CP04.html): a slip, 4 mm or 0.4 mm",
    "triangles of pearl 8 on C10, 28 cm, 4 rounds to the diamonds' centres (C10/JM03.html): pins are in a drawing only",
    "kiku, sixteen lines, 20 cm: ends 5 mm from the obi, but no row count is stated",
    "C8 squares worked inward, 13 rows on a 3 in ball: how large a window is left is not stated",
    "kiku, thirty-two lines, 36 cm, and sixteen lines, 25 cm: starts are stated, neither row counts nor ends",
    "kiku, eight lines, 20 cm, two colours: one row each by turns, how many is not stated",
    "pinwheel on a 2.5 in ball: blades overlap by 6 mm, the row count is not stated",
    "swirl, fourteen faces, 23 to 28 cm: the step from bite to bite is not stated on any page read",
    "interlocked pentagons, five sets of three rows on 28 cm: the start is not stated",
    "skeins: six for an all-over C10 of 32 cm, three of the main colour for 40 cm: the rows are not all stated",
)
