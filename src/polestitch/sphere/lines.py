"""Great circles as lines: which way a tangent points, where a circle is met, how far along it a point lies.

In: unit vectors (..., 3).  Out: angles in radians, or unit vectors.  A circle is given by its normal
and is followed right-handedly about it.
"""

import math

import numpy as np

from polestitch.sphere.arcs import Angles, Points, cross, dot, unit

NEAR = 1e-9  # radians; nearer than this is the same place


def bearings(at: Points, tangent: Points) -> Angles:
    """Angle from the way to +z to each tangent, counter-clockwise seen from outside, in (-pi, pi].

    At +z and -z themselves: from the way to +x, counter-clockwise seen from above +z.
    """
    polar = np.abs(at[..., 2:]) > 1 - NEAR
    north = np.where(polar, [1.0, 0.0, 0.0], np.array([0.0, 0.0, 1.0]) - at[..., 2:] * at)
    side = np.where(polar, [0.0, 1.0, 0.0], cross(at, north))
    return np.asarray(np.arctan2(dot(tangent, side), dot(tangent, north)))


def along(normal: Points, start: Points, points: Points) -> Angles:
    """How far round ``normal`` from ``start`` each point lies, 0 up to 2 pi; a hair short of 2 pi counts as 0."""
    ahead = dot(points, start) - dot(points, normal) * dot(start, normal)
    turn = np.mod(np.arctan2(dot(points, cross(normal, start)), ahead), 2 * math.pi)
    return np.where(turn > 2 * math.pi - NEAR, 0.0, turn)


def meeting(normal: Points, other: Points) -> Points:
    """One of the two opposite points where two great circles meet; undefined where they are the same circle."""
    return unit(cross(normal, other))


def cross_track(normal: Points, points: Points) -> Angles:
    """Signed distance of each point from the great circle, positive on the normal's side."""
    return np.asarray(np.arcsin(np.clip(dot(points, normal), -1, 1)))
