"""The net of a multi-face division on one triangle of the base, and on the whole ball.

In: a ``Family``.  Out: rows of weights (of the triangle's three corners) and points on the ball.
Every base triangle is cut from the same plane net of triangles; its corners lie at 0, w and w turned
by a sixth, with w = h + k times a sixth turn (Caspar and Klug's construction, from memory).
"""

import math

import numpy as np
from numpy.typing import NDArray

from polestitch.marking.families import Family
from polestitch.sphere.arcs import Points, arc_angle, cross, dot, unit

Rows = NDArray[np.intp]
TETRAHEDRON = math.acos(-1 / 3)  # neighbouring centres of the base, in radians (Coxeter, from memory)
NEIGHBOURS = {10: math.atan(2), 8: math.pi / 2, 6: TETRAHEDRON, 4: math.pi / 2}
ROUNDED = 6  # decimals; nearest points of 1,002 faces lie 0.02 apart, rounding errors are 1e-15


def net(family: Family) -> tuple[Points, Points, Points]:
    """Weights of face centres (n, 3), of corners (m, 3) and of each corner's three faces (m, 3, 3).

    Centres and corners lie in one base triangle, edges included; a corner's face may lie beyond an
    edge and then has a weight below zero.  A point is p + q times a sixth turn, in thirds of a net's
    side; face centres have p and q both divisible by 3, corners leave 1 and 1 or 2 and 2.
    """
    reach = 3 * (family.h + family.k) + 1
    p, q = (grid.ravel() for grid in np.mgrid[-reach : reach + 1, -reach : reach + 1])
    weights = _weights(family, p, q)
    inside = (weights >= 0).all(axis=1) & ((p - q) % 3 == 0)
    centre = inside & (p % 3 == 0)
    corner = inside & ~centre
    points_up = np.where(p[corner] % 3 == 1, 1, -1)[:, None]
    step_p, step_q = points_up * [-1, 2, -1], points_up * [-1, -1, 2]
    faces = _weights(family, (p[corner, None] + step_p).ravel(), (q[corner, None] + step_q).ravel())
    return weights[centre] / (3 * family.t), weights[corner] / (3 * family.t), faces.reshape(-1, 3, 3) / (3 * family.t)


def _weights(family: Family, p: Rows, q: Rows) -> Rows:
    """Whole-number weights of p + q w, w a sixth turn: its product with the conjugate of h + k w."""
    h, k = family.h, family.k
    second, third = p * (h + k) + q * k, q * h - p * k
    return np.stack([3 * family.t - second - third, second, third], axis=1)


def base_centres(base: int) -> Points:
    """The centres of ``base`` that carry the faces with fewest sides; N first, (12, 6 or 4, 3).

    Every second centre of C6.  As on the combination itself, a neighbour of N lies toward +x, or
    for C6 a neighbour among all eight centres does, and then these lie the other way.
    """
    gap = NEIGHBOURS[base]
    if base in (4, 8):
        axes = np.eye(3)[[2, 0, 1]]
        return np.asarray(np.concatenate([axes, -axes]))
    sides = 5 if base == 10 else 3
    turn = 2 * math.pi * np.arange(sides) / sides + (0.0 if base == 10 else math.pi)
    ring = np.stack([math.sin(gap) * np.cos(turn), math.sin(gap) * np.sin(turn), np.full(sides, math.cos(gap))], 1)
    upper = np.concatenate([[[0.0, 0.0, 1.0]], ring])
    return np.concatenate([upper, -upper]) if base == 10 else upper


def base_triangles(base: int) -> Points:
    """(20, 8 or 4, 3, 3): corners of each base triangle, counter-clockwise from outside."""
    at = base_centres(base)
    near = np.abs(arc_angle(at[:, None], at[None]) - NEIGHBOURS[base]) < 1e-6
    a, b, c = np.nonzero(near[:, :, None] & near[None] & near[:, None])
    corners = at[np.stack([a, b, c], axis=1)]
    first = (a < b) & (a < c) & (dot(cross(corners[:, 0], corners[:, 1]), corners[:, 2]) > 0)
    return np.asarray(corners[first])


def flat(triangles: Points, weights: Points) -> Points:
    """Points of the flat-sided solid, (triangles, n, 3); one weight below zero folds over that edge."""
    over = np.minimum(weights.min(axis=1), 0.0)
    beyond = weights.argmin(axis=1)
    kept = weights + over[:, None]
    kept[np.arange(len(kept)), beyond] -= 2 * over  # zero where it folds, as it was where it does not
    return np.asarray(kept @ triangles - over[:, None] * _beyond(triangles)[:, beyond])


def _beyond(triangles: Points) -> Points:
    """For each corner of each triangle the corner on the other side of the edge opposite, (triangles, 3, 3)."""
    a, b, c = (np.roll(triangles, -n, axis=1) for n in range(3))
    wall = unit(cross(b, c))
    return np.asarray(a - 2 * dot(a, wall)[..., None] * wall)


def keys(points: Points) -> Rows:
    """A whole number for each of ``points`` (..., 3), equal for equal points of a solid within the unit sphere."""
    steps = np.rint((points + 1) * 10**ROUNDED).astype(np.int64)  # 0 to 2 million: 21 bits
    return np.asarray(steps @ np.array([1, 1 << 21, 1 << 42]))


def middles(points: Points, pairs: Rows) -> Points:
    """Half way between the two points of each pair."""
    return unit(points[pairs[:, 0]] + points[pairs[:, 1]])
