"""Published row counts, and the pitch each one implies in this model.

Every pattern here was published by a maker with a size, a start, a row count and an end.  The pitch
is found by root-finding on the real geometry: the pitch for which the last published row just ends
where the pattern says.  ``python -m tests.reference.published`` prints the table.

Patterns of the same list that state no end ("1 + 9 + 1 rows", "alternate one row each") imply no
pitch and are named in ``UNDECIDED``.
"""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from scipy.optimize import brentq

from polestitch.ball.ball import Ball
from polestitch.document.lengths import Length
from polestitch.laying.settle import settled
from polestitch.marking.divisions import marked
from polestitch.sphere.arcs import between
from polestitch.stitching.site import Site
from polestitch.stitching.techniques import polygon, spindle, star

# What size-5 pearl cotton lies at: packed hard by a published gauge 0.71 mm, loosely up to 1.05 mm, as the
# row counts of other published patterns imply.
LEAST_MM, MOST_MM = 0.7, 1.05
# Centre to next centre and centre to triangle of C10, as shares of C: Coxeter's icosahedron, 63.43 and 37.38 degrees.
NEXT_CENTRE, TRIANGLE = 63.4349488229 / 360, 37.3773681406 / 360


@dataclass(frozen=True)
class Pattern:
    """One published count: ``overshoot(pitch_mm)`` is the last row's end beyond the published one, mm."""

    name: str
    source: str
    says: str
    overshoot: Callable[[float], float]

    def pitch_mm(self) -> float:
        """The implied pitch."""
        return float(brentq(self.overshoot, 0.3, 1.9, xtol=1e-6))


def _site(kind: str, around_mm: float, reaches: list[float], stretch_mm: float = 2.0) -> Site:
    ball = Ball(around_mm)
    ways = len(reaches)
    azimuths = np.arange(ways) * 2 * np.pi / ways
    numbers = tuple(range(1, ways + 1))
    stretch, bite = ball.angle(stretch_mm), ball.angle(1.5) / 2
    return Site("arc" if kind == "arc" else "centre", ball, azimuths, np.array(reaches), numbers, stretch, bite)


def _spindle_edge(around_mm: float, rounds: int, pitch_mm: float) -> float:
    """Distance of the outermost thread's edge from the line, mm, where the spindle is widest."""
    site = _site("arc", around_mm, [np.pi / 2] * 2)
    pitch = site.ball.angle(pitch_mm)
    rows = list(spindle.stitch(site, spindle.Params(at=Length("1/2 from centre")), [pitch] * rounds))
    chain = settled(rows)[-1].chains[0]
    points = np.concatenate([between(chain[:-1], chain[1:], share) for share in np.linspace(0, 1, 33)])
    return site.ball.mm(float(np.arcsin(np.abs(points[:, 1]).max())) + pitch / 2)


def _c10_reaches() -> list[float]:
    return [spoke.reach for spoke in marked("C10").spokes["N"]]


def _star_tip(around_mm: float, rows: int, pitch_mm: float) -> float:
    """Distance of the last row's points from the centre, mm; the thread's own edge is half a pitch further."""
    site = _site("centre", around_mm, _c10_reaches(), stretch_mm=6.0)
    pitch = site.ball.angle(pitch_mm)
    params = star.Params(points=5, step=2, at=Length("1.5 from centre"))
    last = list(star.stitch(site, params, [pitch] * rows))[-1]
    return site.ball.mm(float(np.arccos(last.places[0][2])))


def _pentagon_covers(around_mm: float, rows: int, pitch_mm: float) -> float:
    """How far ten rows worked inward have come from the first row's corners, mm, thread widths included."""
    reaches = _c10_reaches()
    site = _site("centre", around_mm, [*reaches[1:], reaches[0]])
    pitch = site.ball.angle(pitch_mm)
    params = polygon.Params(corners=5, at=Length("1/3 from edge"), grow="inward")
    stitched = list(polygon.stitch(site, params, [pitch] * rows))
    ends = [float(np.arccos(row.places[0][2])) for row in (stitched[0], stitched[-1])]
    return site.ball.mm(ends[0] - ends[1])


PATTERNS = (
    Pattern(
        "spindles, ten lines, 22.5 cm, 11 rounds",
        "temarikai.com/PatternsPages/Simple/SC02.html",
        "start half way from pole to obi; 22 threads almost fill the field, whose midline is C/20 away",
        lambda pitch: _spindle_edge(225.0, 11, pitch) - 225.0 / 20,
    ),
    Pattern(
        "spindles, twelve lines, 24 cm, 8 rounds",
        "temarikai.com, pattern GK09",
        "flanks nearly reach the midline, C/24 away; the start, not stated, taken half way",
        lambda pitch: _spindle_edge(240.0, 8, pitch) - 240.0 / 24,
    ),
    Pattern(
        "pentagons on C10, 32 cm, 10 rows",
        "temarikai.com/PatternsPages/C10/JZ11.html",
        "start one third in from the corner; ten rows cover a bit more than one third of the way in",
        lambda pitch: _pentagon_covers(320.0, 10, pitch) - 320.0 * TRIANGLE / 3,
    ),
)

# These stars fail at both ends of their published range, at the small one by a hair: a spherical five-point
# star has tips of 27 degrees, so legs side by side step 1.5 mm a row, while five rows on 29 cm need 3.2 mm.
# Makers stretch these points beyond what lets the legs touch, or leave ground between them.
OUTSIDE = (
    Pattern(
        "five-point stars on C10, 25 cm, 6 rows",
        "temarikai.com, patterns GT33 and DR02 (25 to 29 cm, 5 to 6 rows)",
        "start half way from the pentagon's border to the next centre; until points reach that centre",
        lambda pitch: _star_tip(250.0, 6, pitch) - 250.0 * NEXT_CENTRE,
    ),
    Pattern(
        "five-point stars on C10, 29 cm, 5 rows",
        "temarikai.com, patterns GT33 and DR02 (25 to 29 cm, 5 to 6 rows)",
        "the same, at the other end of its range",
        lambda pitch: _star_tip(290.0, 5, pitch) - 290.0 * NEXT_CENTRE,
    ),
)

UNDECIDED = (
    "star, ten lines, 27 cm, 1 + 9 + 1 rows: no end is stated",
    "kiku, sixteen lines, 20 cm: ends 5 mm from the obi, but no row count is stated",
    "C8 squares worked inward, 13 rows on a 3 in ball: how large a window is left is not stated",
    "kiku, thirty-two lines, 36 cm, and sixteen lines, 25 cm: starts are stated, neither row counts nor ends",
    "kiku, eight lines, 20 cm, two colours: one row each by turns, how many is not stated",
    "pinwheel on a 2.5 in ball: blades overlap by 6 mm, the row count is not stated",
    "swirl, fourteen faces, 23 to 28 cm: the step from bite to bite is not stated on any page read",
    "interlocked pentagons, five sets of three rows on 28 cm: the start is not stated",
)


def table() -> str:
    """The patterns with the pitch each implies, in plain text."""
    lines = [f"{one.pitch_mm():.2f} mm  {one.name}  ({one.source})" for one in (*PATTERNS, *OUTSIDE)]
    return "\n".join([*lines, *(f"   --     {why}" for why in UNDECIDED)])


if __name__ == "__main__":
    print(table())
