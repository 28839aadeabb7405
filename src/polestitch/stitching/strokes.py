"""Separate strokes, for authors of techniques: thread on the surface from here to there, then under the wrap.

In: where each stroke comes up and where it goes in, in the site's frame.  Out: one row.
"""

import numpy as np

from polestitch.sphere.arcs import Angles, Points, arc_angle, cross, toward, unit
from polestitch.stitching.moves import station
from polestitch.stitching.site import Site
from polestitch.stitching.stitches import Row


def stroke_row(site: Site, row: tuple[int, float, int], ups: Points, ends: Points, via: tuple[Points, ...] = ()) -> Row:
    """Stroke k comes up at ``ups[k]`` (b, 3) and goes in at ``ends[k]``; ``row`` is its number, pitch and plan.

    After the last stroke the thread runs under the wrap to the first one's start, where the next row begins.
    ``via`` holds for each stroke the (m, 3) places it is led through.
    """
    count = len(ups)
    ahead = np.roll(ups, -1, axis=0)
    # Bite k of the row lies before stroke k: in where stroke k - 1 ends, up where stroke k starts.
    enters = np.roll(ends, 1, axis=0)
    half = np.roll(arc_angle(ends, ahead), 1) / 2
    outward = _outward(enters)
    return Row(
        number=row[0],
        pitch=row[1],
        places=enters,
        travel=unit(cross(outward, enters)),
        half=np.maximum(half, site.bite / 2),
        outward=outward,
        step=np.full(count, row[1]),
        narrow=np.zeros(count, dtype=bool),
        wide=np.zeros(count, dtype=bool),
        spokes=tuple(nearest_lines(site, enters)),
        plan=row[2],
        via=via,
        up=ups,
    )


def _outward(places: Points) -> Points:
    """(b, 3) tangents away from the middle; toward the start line at the middle itself."""
    pole, start = np.array([0.0, 0.0, 1.0]), np.array([1.0, 0.0, 0.0])
    away = np.where((np.abs(places[:, 2]) > 1 - 1e-12)[:, None], start, -pole)
    return unit(away - np.sum(away * places, axis=1)[:, None] * places)


def nearest_lines(site: Site, places: Points) -> list[int]:
    """The number of the guideline whose direction each place (b, 3) lies nearest to."""
    azimuth = np.arctan2(places[:, 1], places[:, 0])
    apart = np.cos(azimuth[:, None] - site.azimuths[None])
    return [site.numbers[k] for k in np.argmax(apart, axis=1).tolist()]


def spots(azimuth: Angles, distance: Angles) -> Points:
    """(b, 3) places at azimuths and distances from the middle."""
    azimuth, distance = np.broadcast_arrays(azimuth, distance)
    return station(azimuth, distance)[0]


def beside(a: Points, b: Points, aside: float) -> tuple[Points, Points]:
    """The strokes from ``a`` to ``b`` (b, 3) moved ``aside`` radians to their left."""
    if aside == 0.0:
        return a, b
    left_a, left_b = cross(a, toward(a, b)), -cross(b, toward(b, a))
    c, s = np.cos(aside), np.sin(aside)
    return c * a + s * left_a, c * b + s * left_b
