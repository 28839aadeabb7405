"""Circles on the sphere, great and small: the plane normal @ x = offset, offset 0 for a great circle.

In: normals (..., 3), offsets (cosine of the radius about the normal).  Out: points, angles in radians.
"""

import numpy as np

from polestitch.sphere.arcs import Angles, Points, cross, dot, unit


def ring_points(normal: Points, radius: float, start: Points, turn: Angles) -> Points:
    """Points at ``radius`` round ``normal``, ``turn`` to the right-handed side of the way to ``start``; (..., 3)."""
    ahead = unit(start - dot(normal, start) * normal)
    side = cross(normal, ahead)
    flat = np.cos(turn)[..., None] * ahead + np.sin(turn)[..., None] * side
    return np.asarray(np.cos(radius) * normal + np.sin(radius) * flat)


def circle_meetings(normal: Points, offset: float, other: Points, other_offset: float) -> Points:
    """The points common to two circles: (2, 3), or (0, 3) where they do not cross (touching counts as one way)."""
    across = cross(normal, other)
    square, cosine = float(across @ across), float(normal @ other)
    if square < 1e-24:
        return np.empty((0, 3))
    foot = ((offset - other_offset * cosine) * normal + (other_offset - offset * cosine) * other) / square
    room = (1 - float(foot @ foot)) / square
    if room < 0:
        return np.empty((0, 3))
    step = np.sqrt(room) * across
    return np.stack([foot + step, foot - step])


def cap_area(radius: float) -> float:
    """Solid angle inside a circle of ``radius``, in steradians."""
    return float(2 * np.pi * (1 - np.cos(radius)))


def triangle_area(a: Points, b: Points, c: Points) -> Angles:
    """Solid angle of the triangle, positive where a, b, c run counter-clockwise seen from outside.

    Van Oosterom and Strackee's formula (IEEE Trans. Biomed. Eng. 1983, from memory); good for small triangles.
    """
    volume = dot(a, cross(b, c))
    return np.asarray(2 * np.arctan2(volume, 1 + dot(a, b) + dot(b, c) + dot(c, a)))
