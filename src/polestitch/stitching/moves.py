"""Shared moves for authors of techniques: corners on guidelines, and how far the next row steps.

In: corners as azimuth and distance from the middle of a site.  Out: rows of bites.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from polestitch.sphere.arcs import Angles, Points, cross, dot, unit
from polestitch.stitching.site import Site
from polestitch.stitching.stitches import Beneath, Row

Floats = NDArray[np.float64]
_NO_PLACE = 1e-9
# The angle of a leg with its guideline from which on a point takes more than the free step, and the one where it takes
# most: corners of 90 and 60 degrees.  ROOM is what published stars and petals take; decision 0174 has the table.
BLUNT, SHARP, ROOM = np.pi / 4, np.pi / 6, 1.25


@dataclass(frozen=True, eq=False)
class Corners:
    """The corners of one row in visiting order, each on a guideline; ``b`` corners.

    ``way`` is +1 where later rows step away from the middle, -1 toward it.  ``wide`` corners gather
    all earlier legs (uwagake's inner bite) and step ``wide_step`` pitches.  ``clockwise`` turns the
    crossing of the legs over (a spindle, whose tips are worked at the top).
    """

    azimuth: Floats  # (b,)
    distance: Floats  # (b,) radians from the middle
    spokes: tuple[int, ...]  # (b,) guideline numbers
    laps: int = 1
    way: Floats = field(default_factory=lambda: np.ones(1))
    wide: NDArray[np.bool_] = field(default_factory=lambda: np.zeros(1, dtype=bool))
    wide_step: float = 1.0
    clockwise: bool = False


def station(azimuth: Floats, distance: Floats) -> tuple[Points, Points, Points]:
    """Places, directions away from the middle, and directions to the right (middle up), each (b, 3)."""
    ca, sa, cd, sd = np.cos(azimuth), np.sin(azimuth), np.cos(distance), np.sin(distance)
    places = np.stack([sd * ca, sd * sa, cd], axis=1)
    away = np.stack([cd * ca, cd * sa, -sd], axis=1)
    right = np.stack([-sa, ca, np.zeros_like(ca)], axis=1)
    return places, away, right


def leg_sines(places: Points, right: Points) -> Angles:
    """(b,) sine of the angle between guideline and the sharper of the two legs at each place.

    Legs run to the next and from the former place of the closed path; the smaller sine asks for
    the larger step.
    """
    along = cross(places, right)
    # A leg's axis lies as far from the guideline's direction as the leg from being square to it.
    axes = unit(cross(places, np.concatenate([places[1:], places[:1]])))
    leaving, arriving = dot(axes, along), dot(np.concatenate([axes[-1:], axes[:-1]]), along)
    return np.minimum(np.abs(leaving), np.abs(arriving))


def free_step(gap: float, sine: Angles) -> Angles:
    """Step along a guideline that puts the new leg ``gap`` beside the old one: sin d = sin(gap) / sin(angle).

    Right spherical triangle (Napier); flat check: 1.41 gaps at a square corner.
    """
    return np.asarray(np.arcsin(np.minimum(1.0, np.sin(gap) / np.maximum(sine, _NO_PLACE))))


def goes_inward(places: Points, outward: Points) -> NDArray[np.bool_]:
    """(b,) whether the step along ``outward`` goes to the side on which the leg to the next place lies."""
    return np.asarray(dot(np.concatenate([places[1:], places[:1]]), outward) > 0)


def tip_step(gap: float, sine: Angles, stretch: float, inward: NDArray[np.bool_]) -> Angles:
    """(b,) how far the next bite stands along its guideline, by the ``sine`` (b,) of the angle its leg makes with it.

    A corner of 90 degrees or more takes the free step.  A sharper one needs space for the thread to double back,
    the more the sharper it is (http://www.temarikai.com/HowToPages/stretchpoints.html): up to ``ROOM`` free steps.
    Where rows go ``inward`` (b,), to the side on which the legs lie, no thread doubles back over a former tip, and
    the free step is enough.  It never takes more than the maker's ``stretch``, where the thread leans, nor less than
    one ``gap``.
    """
    sharp = np.clip((BLUNT - np.arcsin(np.minimum(1.0, sine))) / (BLUNT - SHARP), 0.0, 1.0)
    sharp = np.where(inward, 0.0, sharp)
    roomy = (1 + (ROOM - 1) * sharp) * free_step(gap, sine)
    return np.asarray(np.maximum(np.minimum(roomy, stretch), gap))


def bite_half(site: Site, pitch: float, step: Angles, sine: Angles) -> Angles:
    """(b,) half-width of plain bites whose legs lie at ``sine`` to the guideline, the next ``step`` away.

    The legs of a tip cross before the next tip begins, and there lie no closer than they touch: where that
    is narrower than her bite, the wrap gives under their pull.  Common practice, no source.
    """
    tangent = sine / np.sqrt(np.maximum(1 - sine**2, _NO_PLACE))
    return np.minimum(site.bite, np.maximum(pitch / 2, step * tangent))


def growing(corners: Corners, pitches: Iterable[float], site: Site) -> Iterator[Row]:
    """One row per pitch, each beside the one before it.

    At a broad corner the bite takes the free step, at a sharper one a little more, at a narrow tip the maker's
    stretch (never under the pitch), where the thread leans.  A wide bite moves ``wide_step`` pitches along its
    guideline and widens until the new legs lie one pitch outside the former ones.
    """
    state = _State(corners, site)
    for number, pitch in enumerate(pitches, 1):
        yield state.row(number, pitch)


def ducking(number: int, places: Points, within: float) -> Beneath | None:
    """Row ``number`` goes under all earlier rows of its motif near each of ``places`` (m, 3); None for the first."""
    earlier = range(1, number)
    rows = tuple(before for before in earlier for _ in places)
    return Beneath(rows, np.tile(places, (len(earlier), 1)), within) if rows else None


class _State:
    """The running distances and widths of one motif while its rows are stitched."""

    def __init__(self, corners: Corners, site: Site) -> None:
        count = len(corners.spokes)
        self.corners, self.site, self.former = corners, site, 0.0
        self.distance = np.array(corners.distance, dtype=float)
        self.half = np.full(count, site.bite)
        self.way = np.broadcast_to(corners.way, count)
        self.wide = np.broadcast_to(corners.wide, count)
        self.at = station(corners.azimuth, self.distance)

    def row(self, number: int, pitch: float) -> Row:
        """The next row; the first stands at the corners as given."""
        gap = (self.former + pitch) / 2 if number > 1 else pitch
        sine = leg_sines(self.at[0], self.at[2])
        free = free_step(gap, sine)
        inward = goes_inward(self.at[0], self.way[:, None] * self.at[1])
        step = tip_step(gap, sine, self.site.stretch, inward)
        widen = self._widening(gap, sine)
        step = np.where(self.wide, self.corners.wide_step * gap, step)
        if number > 1:
            self.distance = self.distance + self.way * step
            self.half = self.half + np.where(self.wide, widen, 0.0)
        self.half = np.where(self.wide, self.half, bite_half(self.site, pitch, step, sine))
        if number > 1:
            self.at = station(self.corners.azimuth, self.distance)
        places, away, right = self.at
        self.former = pitch
        return Row(
            number=number,
            pitch=pitch,
            places=places,
            travel=-right if self.corners.clockwise else right,
            half=self.half.copy(),
            outward=self.way[:, None] * away,
            step=step,
            narrow=(free > step + _NO_PLACE) & ~self.wide,
            wide=self.wide,
            spokes=self.corners.spokes,
            laps=self.corners.laps,
            plan=number - 1,
        )

    def _widening(self, gap: float, sine: Angles) -> Angles:
        # The new enter point lies `along` further out and `widen` further aside; square to the leg
        # that must be one gap:  widen cos + along sin = gap.
        along = self.corners.wide_step * gap
        cosine = np.sqrt(np.maximum(1 - sine**2, _NO_PLACE))
        return np.asarray(np.maximum(0.0, (gap - along * sine) / cosine))
