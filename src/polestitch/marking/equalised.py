"""A multi-face marking evened out: every side of every face as long as every other, faces as round as that allows.

In: a family.  Out: as ``parts.equal_parts``.
Least squares by Gauss and Newton over one corner of each kind, turned onto all its like by the base's
rotations: side less mean side, and with little weight centre-to-corner less its mean in that face.
For the 32 and the 14 this is the truncated icosahedron and the truncated octahedron.
"""

import numpy as np

from polestitch.marking.families import Family
from polestitch.marking.lattice import Rows, base_triangles, keys
from polestitch.marking.parts import equal_parts
from polestitch.marking.rings import face_sides
from polestitch.sphere.arcs import Points, arc_angle, cross, toward, unit

ROUNDNESS = 0.1  # weight of round faces beside equal sides; sides then come out equal to about 0.5 %
ENOUGH = 1e-12  # radians a corner still moves
BOLDEST = 0.1  # of a side; longer steps fold the stretched faces of C6 over each other
MOST_ROUNDS = 60


def equalised(family: Family) -> tuple[Points, Points, Rows]:
    """Face centres (n, 3), corners (m, 3) and the three faces that meet at each corner (m, 3)."""
    centres, corners, meeting = equal_parts(family)
    kinds = _Kinds(base_rotations(family.base), corners)
    sides, _ = face_sides(meeting)
    wanted = np.isin(sides, kinds.first)  # each corner of ``first`` with its three sides and three legs says all
    ends = np.concatenate([sides[wanted[:, 0]], sides[wanted[:, 1]][:, ::-1]])
    for _round in range(MOST_ROUNDS):
        centres = _middles(corners, meeting, len(centres))
        move = _move(kinds, corners, ends, meeting, centres)
        corners = kinds.all_from(unit(corners[kinds.first] + move))
        if np.abs(move).max() < ENOUGH:
            break
    return _middles(corners, meeting, len(centres)), corners, meeting


def base_rotations(base: int) -> Points:
    """Every rotation that turns the base onto itself; (60, 24 or 12, 3, 3)."""
    triangles = base_triangles(base)
    turned = np.concatenate([np.roll(triangles, n, axis=1) for n in range(3)])
    return np.asarray(np.swapaxes(turned, 1, 2) @ np.linalg.inv(triangles[0].T))


class _Kinds:
    """Corners sorted by kind: ``first`` is one of each, ``turn`` takes it to each of its like."""

    def __init__(self, rotations: Points, corners: Points) -> None:
        known = keys(corners)
        order = np.argsort(known)
        images = order[np.searchsorted(known[order], keys(np.einsum("gij,cj->gci", rotations, corners)))]
        lowest = images.min(axis=0)
        self.first, self.kind = np.unique(lowest, return_inverse=True)
        self.many = np.bincount(self.kind)
        reached = images[:, lowest] == np.arange(len(corners))
        self.turn = rotations[reached.argmax(axis=0)]  # (m, 3, 3)
        fixed = (images[:, self.first] == self.first).sum(axis=0) > 1  # on an axis: it stays
        along = cross(corners[self.first], np.array([0.36, 0.48, 0.8]))
        frame = np.stack([unit(along), unit(cross(corners[self.first], along))], axis=1)
        self.frame = np.where(fixed[:, None, None], 0.0, frame)  # (kinds, 2, 3) the ways each may move

    def all_from(self, firsts: Points) -> Points:
        """Every corner from one of each kind."""
        return np.asarray(np.einsum("cij,cj->ci", self.turn, firsts[self.kind]))

    def ways(self) -> Points:
        """(m, 2, 3) how each corner goes when its first goes each of its two ways."""
        return np.asarray(np.einsum("cij,cwj->cwi", self.turn, self.frame[self.kind]))


def _middles(corners: Points, meeting: Rows, count: int) -> Points:
    """(count, 3) the middle of each face's corners."""
    sums = np.stack([np.bincount(meeting.ravel(), np.repeat(axis, 3), count) for axis in corners.T], axis=1)
    return unit(np.asarray(sums, dtype=float))


def _move(kinds: _Kinds, corners: Points, ends: Rows, meeting: Rows, centres: Points) -> Points:
    """(kinds, 3) the step that would even everything out if lengths grew evenly; ``ends`` (e, 2), first of a kind."""
    ways = kinds.ways()
    size, slope = _lengths(corners, ends, ways, kinds)
    weight = np.sqrt(kinds.many[kinds.kind[ends[:, 0]]])
    share = weight**2 / (weight**2).sum()
    legs, leg_slope, leg_weight = _legs(kinds, corners, meeting, centres, ways)
    left = np.concatenate([weight[:, None] * (slope - share @ slope), leg_weight[:, None] * leg_slope])
    right = np.concatenate([weight * (size - share @ size), leg_weight * legs])
    step = -np.linalg.lstsq(left.T @ left, left.T @ right, rcond=1e-13)[0]
    move = np.einsum("kw,kwi->ki", step.reshape(-1, 2), kinds.frame)
    return np.asarray(move * min(1.0, BOLDEST * float(size.mean()) / max(float(np.abs(move).max()), ENOUGH)))


def _legs(
    kinds: _Kinds, corners: Points, meeting: Rows, centres: Points, ways: Points
) -> tuple[Points, Points, Points]:
    """Centre-to-corner less its face's mean for the three legs of each kind, how that grows, and its weight."""
    near = np.isin(meeting, meeting[kinds.first])  # every leg of a face that a first corner belongs to
    corner, face = np.nonzero(near)[0], meeting[near]
    legs = arc_angle(corners[corner], centres[face])
    slope = np.zeros((len(corner), 2 * len(kinds.first)))
    _add(slope, kinds, corner, -toward(corners[corner], centres[face]), ways)
    _, at = np.unique(face, return_inverse=True)
    many = np.bincount(at)
    mean_slope = np.zeros((len(many), slope.shape[1]))
    np.add.at(mean_slope, at, slope)
    mean_leg: Points = np.bincount(at, legs) / many
    first = np.isin(corner, kinds.first)
    weight = np.asarray(ROUNDNESS * np.sqrt(kinds.many[kinds.kind[corner[first]]]))
    return (legs - mean_leg[at])[first], (slope - (mean_slope / many[:, None])[at])[first], weight


def _lengths(corners: Points, sides: Rows, ways: Points, kinds: _Kinds) -> tuple[Points, Points]:
    """Length of each side, and how it grows with each way of each kind."""
    one, other = corners[sides[:, 0]], corners[sides[:, 1]]
    slope = np.zeros((len(sides), 2 * len(kinds.first)))
    _add(slope, kinds, sides[:, 0], -toward(one, other), ways)
    _add(slope, kinds, sides[:, 1], -toward(other, one), ways)
    return arc_angle(one, other), slope


def _add(slope: Points, kinds: _Kinds, corner: Rows, away: Points, ways: Points) -> None:
    """Add what moving ``corner`` of each row does to a length that grows in direction ``away``."""
    rows = np.arange(len(corner))
    for way in range(2):
        grows = np.einsum("ri,ri->r", away, ways[corner, way])
        np.add.at(slope, (rows, 2 * kinds.kind[corner] + way), grows)
