"""The makers' way to place a multi-face marking: arcs of the base divided into equal parts.

In: a family, weights in a base triangle.  Out: points on the ball.
The arcs between two centres and from a centre to the middle of its triangle are cut into equal parts,
with strip or tape, and lines through those cuts give the rest (http://temarikai.com, multi-centre
pages: "sides of the triangle or of the diamond").  Where three such lines do not quite meet in one
point, their middle is taken.
"""

import numpy as np

from polestitch.marking.families import Family
from polestitch.marking.lattice import Rows, base_triangles, flat, keys, net
from polestitch.sphere.arcs import Points, arc_angle, unit

# Published: makers of the 14 cut at 2/7 of the way from centre to centre, where thirds would be uneven
# (the source gives the number for C8; C4 has the same centres).
FIRST_PART = {(8, 1, 1): 2 / 7, (4, 1, 1): 2 / 7}


def equal_parts(family: Family) -> tuple[Points, Points, Rows]:
    """Face centres (n, 3), corners (m, 3) and the three faces that meet at each corner (m, 3)."""
    triangles = base_triangles(family.base)
    centre_weights, corner_weights, face_weights = net(family)
    known, first = np.unique(keys(flat(triangles, centre_weights)), return_index=True)
    centres = _cut(triangles, centre_weights)[first]
    _, corner = np.unique(keys(flat(triangles, corner_weights)), return_index=True)
    corners = _cut(triangles, _shifted(family, corner_weights))[corner]
    meeting = keys(flat(triangles, face_weights.reshape(-1, 3))).reshape(-1, 3)[corner]
    return centres, corners, np.searchsorted(known, meeting)


def _shifted(family: Family, weights: Points) -> Points:
    """Thirds of a side moved to the part makers take instead."""
    part = FIRST_PART.get((family.base, family.h, family.k))
    if part is None:
        return weights
    return np.where(weights > 0.5, 1 - part, np.where(weights > 0.1, part, 0.0))


def _cut(triangles: Points, weights: Points) -> Points:
    """Points of every triangle, (triangles * n, 3): each base triangle as three, round its own middle."""
    least = weights.argmin(axis=1)
    turned = np.stack([np.roll(np.arange(3), -k - 1) for k in least])  # the two nearer corners, then the third
    first, second, third = (np.take_along_axis(weights, turned, axis=1)[:, n] for n in range(3))
    a, b = triangles[:, turned[:, 0]], triangles[:, turned[:, 1]]
    middle = np.broadcast_to(unit(triangles.sum(axis=1))[:, None], a.shape)
    # weight 1/3 each is the middle itself
    shares = np.stack([first - third, second - third, 3 * third], axis=1)
    return _even(np.stack([a, b, middle], axis=2), shares).reshape(-1, 3)


def _even(corners: Points, shares: Points) -> Points:
    """The middle of three cuts: on each line parallel to a side, at its share of the way across."""
    cuts = []
    for top, left, right in ((0, 1, 2), (1, 2, 0), (2, 0, 1)):
        down = np.broadcast_to(1 - shares[:, top], corners.shape[:2])
        across = np.divide(shares[:, right], down, out=np.zeros_like(down), where=down > 1e-12)
        start, end = (_part(corners[:, :, top], corners[:, :, side], down) for side in (left, right))
        cuts.append(_part(start, end, across))
    return unit(cuts[0] + cuts[1] + cuts[2])


def _part(a: Points, b: Points, share: Points) -> Points:
    """The point at ``share`` of the arc from a to b, also where both are the same."""
    angle = arc_angle(a, b)
    size = np.where(angle < 1e-12, 1.0, np.sin(angle))
    near, far = np.sin((1 - share) * angle) / size, np.sin(share * angle) / size
    same = angle < 1e-12
    return np.asarray(np.where(same, 1.0, near)[..., None] * a + np.where(same, 0.0, far)[..., None] * b)
