"""Reflection groups of the sphere: their mirrors, the points where mirrors cross, their rotations.

In: the orders of a triangle's corners, or mirror normals.  Out: unit vectors (n, 3), rotations (n, 3, 3).
A mirror is a great circle, given by one of its two normals.
Source of the triangles: Coxeter, Regular Polytopes, chapter 5 (from memory).
"""

import math

import numpy as np

from polestitch.sphere.arcs import Points, cross, dot, unit

SAME = 1e-9  # radians, about; equal points differ by 1e-15, unlike points of these groups by more than 0.1


def distinct(vectors: Points) -> Points:
    """``vectors`` without repeats (closer than ``SAME``), each at its first place; (n, 3) to (m, 3)."""
    alike = np.ones((len(vectors), len(vectors)), dtype=bool)
    for axis in vectors.T:
        alike &= np.abs(axis[:, None] - axis) < SAME
    first = alike.argmax(axis=1)
    return np.asarray(vectors[first == np.arange(len(vectors))])


def upward(normals: Points) -> Points:
    """Of each normal and its opposite the one with its last coordinate that is not zero above zero."""
    size = np.abs(normals) > SAME
    last = 2 - size[:, ::-1].argmax(axis=1)
    return np.asarray(normals * np.sign(normals[np.arange(len(normals)), last])[:, None] + 0.0)


def triangle_mirrors(top: int, along: int, beside: int) -> Points:
    """The three mirrors of a triangle with angles pi/top at +z, pi/along toward +x and pi/beside; (3, 3).

    The normals point inward; the first mirror runs from +z toward +x.
    """
    turn, y = math.pi / top, -math.cos(math.pi / along)
    x = (y * math.cos(turn) - math.cos(math.pi / beside)) / math.sin(turn)
    z = math.sqrt(1 - x * x - y * y)
    return np.array([[0.0, 1.0, 0.0], [math.sin(turn), -math.cos(turn), 0.0], [x, y, z]])


def all_mirrors(walls: Points) -> Points:
    """Every mirror of the finite group that the mirrors ``walls`` generate, one upward normal each; (n, 3)."""
    found = fresh = upward(walls)
    while len(fresh):
        images = fresh[None] - 2 * (walls @ fresh.T)[..., None] * walls[:, None]  # the walls alone reach every mirror
        grown = distinct(np.concatenate([found, upward(images.reshape(-1, 3))]))
        found, fresh = grown, grown[len(found) :]
    return unit(found)


def mirror_crossings(mirrors: Points) -> Points:
    """All points in which two or more of the great circles with normals ``mirrors`` meet; (n, 3)."""
    first, second = np.triu_indices(len(mirrors), 1)
    half = distinct(upward(unit(cross(mirrors[first], mirrors[second]))))
    tidy = np.where(np.abs(half) < 1e-12, 0.0, half)  # a pole is then exactly (0, 0, 1)
    return np.asarray(np.concatenate([tidy, -tidy]) + 0.0)


def on_circles(normals: Points, points: Points) -> np.ndarray[tuple[int, int], np.dtype[np.bool_]]:
    """Which point lies on which great circle; (circles, points) of bool."""
    return np.asarray(np.abs(normals @ points.T) < SAME)


def group_rotations(mirrors: Points) -> Points:
    """Every rotation of the finite group with all its mirrors in ``mirrors``; (order, 3, 3).

    Products of two reflections generate them; closing the set keeps this short rather than quick.
    """
    flips = np.eye(3) - 2 * mirrors[:, :, None] * mirrors[:, None, :]
    turns = (flips[:, None] @ flips[None]).reshape(-1, 3, 3)
    found, count = _distinct_turns(turns), 0
    while len(found) > count:
        count = len(found)
        found = _distinct_turns(np.concatenate([found, (found[:, None] @ found[None]).reshape(-1, 3, 3)]))
    return found


def _distinct_turns(turns: Points) -> Points:
    keys = np.round(turns.reshape(-1, 9), 6) + 0.0
    _, first = np.unique(keys, axis=0, return_index=True)
    return np.asarray(turns[np.sort(first)])


def fixed_order(rotations: Points, point: Points) -> int:
    """How many of ``rotations`` keep ``point`` where it is."""
    return int((dot(rotations @ point, point) > 1 - SAME).sum())
