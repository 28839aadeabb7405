"""Great-circle arcs: angles, directions and moves on the unit sphere.

In: unit vectors, shape (..., 3).  Out: angles in radians, or unit vectors of the same shape.
"""

import numpy as np
from numpy.typing import NDArray

Points = NDArray[np.float64]
Angles = NDArray[np.float64]


def dot(a: Points, b: Points) -> Angles:
    """Scalar product along the last axis."""
    return np.asarray(np.einsum("...i,...i->...", a, b))


def cross(a: Points, b: Points) -> Points:
    """Vector product along the last axis; several times faster than ``numpy.cross`` on small arrays."""
    a, b = np.asarray(a), np.asarray(b)
    ax, ay, az, bx, by, bz = a[..., 0], a[..., 1], a[..., 2], b[..., 0], b[..., 1], b[..., 2]
    return np.stack([ay * bz - az * by, az * bx - ax * bz, ax * by - ay * bx], axis=-1)


def unit(v: Points) -> Points:
    """``v`` scaled to length one."""
    return np.asarray(v / np.sqrt(dot(v, v))[..., None])


def arc_angle(a: Points, b: Points) -> Angles:
    """Angle between unit vectors.

    atan2 rather than acos, which loses half its digits near 0 and pi.
    """
    normal = cross(a, b)
    return np.asarray(np.arctan2(np.sqrt(dot(normal, normal)), dot(a, b)))


def toward(a: Points, b: Points) -> Points:
    """Unit tangent at ``a`` along the great circle to ``b``; undefined where they coincide or are opposite."""
    return unit(b - dot(a, b)[..., None] * a)


def move(a: Points, tangent: Points, angle: float | Angles) -> Points:
    """The point ``angle`` along the great circle that leaves ``a`` in direction ``tangent``."""
    turn = np.asarray(angle, dtype=float)[..., None]
    return np.asarray(np.cos(turn) * a + np.sin(turn) * tangent)


def between(a: Points, b: Points, share: float) -> Points:
    """The point at ``share`` (0 to 1, or beyond) of the arc from ``a`` to ``b``."""
    return move(a, toward(a, b), share * arc_angle(a, b))
