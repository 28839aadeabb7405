"""Paths over the ball: bites at any spots, and how each next row lies beside the one before it.

In: the spots of a path in visiting order, and which way its rows go.  Out: rows of bites.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from polestitch.sphere.arcs import Angles, Points, cross, dot, move, toward, unit
from polestitch.stitching.moves import bite_half, free_step, goes_inward, tip_step
from polestitch.stitching.site import Site
from polestitch.stitching.stitches import Row

_STRAIGHT = 1e-6  # two ways nearer to one another than this cannot be told apart
_SLACK = 1e-9


@dataclass(frozen=True, eq=False)
class Path:
    """The bites of a first row, ``b`` of them, in visiting order.

    ``outward`` is the way along which the next row's bite lies, ``travel`` the way the work goes
    there; ``steps`` says where it goes on at all, ``wide`` where the bite gathers all earlier legs
    and moves ``wide_step`` pitches.  After ``leaps`` the way to the next place is no leg of the figure: how
    rows step there follows from the other leg alone.  ``via``, ``under`` and ``closed`` are as in a row.
    """

    places: Points  # (b, 3)
    outward: Points  # (b, 3)
    travel: Points  # (b, 3)
    spokes: tuple[int, ...]
    steps: NDArray[np.bool_]
    wide: NDArray[np.bool_]
    wide_step: float = 1.0
    closed: bool = True
    via: tuple[Points, ...] = ()
    under: tuple[str, ...] = ()
    leaps: NDArray[np.bool_] = field(default_factory=lambda: np.zeros(1, dtype=bool))


def bearings(places: Points, closed: bool) -> tuple[Points, Points]:
    """(b, 3) tangents toward the next and toward the former place; an open end has but one, so both are opposite."""
    ahead = toward(places, np.roll(places, -1, axis=0))
    back = toward(places, np.roll(places, 1, axis=0))
    if not closed:
        ahead[-1], back[0] = -back[-1], -ahead[0]
    return ahead, back


def onward(places: Points, closed: bool) -> Points:
    """(b, 3) the way the work travels at each place: half way between arriving and leaving.

    Where the thread goes straight back it travels to the right of the place's tip, as at a spindle's.
    """
    ahead, back = bearings(places, closed)
    sum_ = ahead - back
    turned = np.linalg.norm(sum_, axis=1) < _STRAIGHT
    sum_[turned] = cross(-ahead[turned], places[turned])
    return unit(sum_)


def growing_along(path: Path, pitches: Iterable[float], site: Site) -> Iterator[Row]:
    """One row per pitch, each beside the one before it.

    Steps are those round a centre (``tip_step``); a wide bite moves ``wide_step`` pitches and widens until
    its legs lie one pitch outside.
    """
    places, outward = path.places, path.outward
    half, former = np.full(len(places), site.bite), 0.0
    for number, pitch in enumerate(pitches, 1):
        gap = (former + pitch) / 2 if number > 1 else pitch
        sine = _leg_sines(places, outward, path)
        free = free_step(gap, sine)
        step = np.where(
            path.wide, path.wide_step * gap, tip_step(gap, sine, site.stretch, goes_inward(places, outward))
        )
        step = np.where(path.steps, step, 0.0)
        if number > 1:
            half = half + np.where(path.wide & path.steps, _widening(gap, path.wide_step, sine), 0.0)
            places, outward = move(places, outward, step), move(outward, -places, step)
        half = np.where(path.wide, half, bite_half(site, pitch, step, sine))
        former = pitch
        narrow = (free > step + _SLACK) & ~path.wide & path.steps
        yield _row(path, (number, pitch), (places, outward, half), (step, narrow))


def _leg_sines(places: Points, outward: Points, path: Path) -> Angles:
    """(b,) sine of the angle between each bite's step and the sharper of its legs; an open end or a leap is none."""
    side = cross(places, outward)
    leaps = np.broadcast_to(path.leaps, len(places)).copy()
    leaps[-1] |= not path.closed
    ahead, back = np.roll(places, -1, axis=0), np.roll(places, 1, axis=0)
    onto = np.where(leaps[:, None], back, ahead)
    off = np.where(np.roll(leaps, 1)[:, None], ahead, back)
    return np.minimum(np.abs(dot(toward(places, onto), side)), np.abs(dot(toward(places, off), side)))


def _widening(gap: float, wide_step: float, sine: Angles) -> Angles:
    """How much wider a gathering bite gets: square to its leg the new one lies one gap further out."""
    along = wide_step * gap
    return np.asarray(np.maximum(0.0, (gap - along * sine) / np.sqrt(np.maximum(1 - sine**2, _SLACK))))


def _row(
    path: Path, count: tuple[int, float], at: tuple[Points, Points, Angles], stepped: tuple[Angles, NDArray[np.bool_]]
) -> Row:
    number, pitch = count
    places, outward, half = at
    # The bite stays square to the way its rows go, so that rows lie side by side.
    travel = unit(path.travel - dot(path.travel, places)[:, None] * places)
    return Row(
        number=number,
        pitch=pitch,
        places=places,
        travel=travel,
        half=half,
        outward=outward,
        step=stepped[0],
        narrow=stepped[1],
        wide=path.wide,
        spokes=path.spokes,
        plan=number - 1,
        via=path.via,
        under=path.under,
        closed=path.closed,
    )
