"""Which pins to move: the turn of the wanted division that leaves as many pins as can be where they are.

In: where pins are and where the division wants them, both on the unit ball.  Out: the turn, and who must move.

The division may lie on the ball in any turn: none is given by nature.  So we look for the turn under which most
pins stand within ``near`` of their place, try it for many pairs of pins, and refine it by least squares over those.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from polestitch.sphere.arcs import Points, arc_angle, cross, dot, toward, unit
from polestitch.survey.leastsquares import Numbers

PARTNERS, ROUNDS, AT_ONCE = 12, 20, 512
Turn = NDArray[np.float64]  # (3, 3)


@dataclass(frozen=True, eq=False)
class Placed:
    """The division turned onto the pins: ``target`` (n, 3), who stands, and how far off each is."""

    target: Points
    known: NDArray[np.bool_]  # (n,) the readings fix it
    stands: NDArray[np.bool_]  # (n,) near enough
    off: Numbers  # (n,) radians; 0 where unknown


def best_turn(wanted: Points, at: Points, weights: Numbers | None = None) -> Turn:
    """The rotation that brings ``wanted`` nearest to ``at`` in the sum of squares.

    Kabsch, *Acta Crystallographica* A32, 1976, by singular values (from memory).
    """
    weighted = wanted if weights is None else wanted * weights[:, None]
    left, _, right = np.linalg.svd(weighted.T @ at)
    flip = np.diag([1.0, 1.0, np.sign(np.linalg.det(left @ right))])
    return np.asarray((left @ flip @ right).T)


def placed(wanted: Points, at: Points, near: float, known: NDArray[np.bool_]) -> Placed:
    """The turn with most of the ``known`` pins (n,) within ``near`` radians; of equals, the one that fits them best."""
    use = np.flatnonzero(known)
    best = _judged(wanted, at, best_turn(wanted[use], at[use]), near, known)
    for turn in _promising(wanted[use], at[use], near):
        best = max(best, _refined(wanted, at, turn, near, known), key=_merit)
    return best


def _merit(one: Placed) -> tuple[int, float]:
    return int(one.stands.sum()), -float((one.off[one.stands] ** 2).sum())


def _judged(wanted: Points, at: Points, turn: Turn, near: float, known: NDArray[np.bool_]) -> Placed:
    target = wanted @ turn.T
    off = np.where(known, arc_angle(at, target), 0.0)
    return Placed(target, known, known & (off <= near), off)


def _refined(wanted: Points, at: Points, turn: Turn, near: float, known: NDArray[np.bool_]) -> Placed:
    """``turn`` eased over the pins that stand under it, for as long as more of them stand."""
    best = _judged(wanted, at, turn, near, known)
    for _ in range(ROUNDS):
        if best.stands.sum() < 2:
            break
        eased = _judged(wanted, at, best_turn(wanted[best.stands], at[best.stands]), near, known)
        if _merit(eased) <= _merit(best):
            break
        best = eased
    return best


def _promising(wanted: Points, at: Points, near: float, most: int = 8) -> list[Turn]:
    """Turns that set one pin right and head it for another, those under which most pins stand."""
    pairs = [(i, j) for i in range(len(at)) for j in _partners(at, i)]
    turns = [_turn_of(wanted, at, i, j) for i, j in pairs]
    counts = np.zeros(len(turns), dtype=int)
    for start in range(0, len(turns), AT_ONCE):
        block = np.array(turns[start : start + AT_ONCE])
        cosines = np.einsum("tij,nj,ni->tn", block, wanted, at)
        counts[start : start + AT_ONCE] = (cosines >= np.cos(near)).sum(axis=1)
    order = np.argsort(-counts, kind="stable")[:most]
    return [turns[k] for k in order]


def _partners(at: Points, i: int) -> NDArray[np.intp]:
    """Pins that give pin ``i`` a good direction: those nearest to a quarter of the ball away."""
    aside = np.abs(dot(at, at[i]))
    aside[i] = np.inf
    order = np.argsort(aside, kind="stable")[:PARTNERS]
    return order[aside[order] < 0.95]


def _turn_of(wanted: Points, at: Points, i: int, j: int) -> Turn:
    def frame(points: Points) -> Points:
        ahead = toward(points[i], points[j])
        return np.stack([points[i], ahead, cross(points[i], ahead)], axis=1)

    return np.asarray(frame(at) @ frame(wanted).T)


def headings(at: Points, target: Points) -> Points:
    """(n, 3) unit direction in which each pin must go; any where it stays."""
    ahead = target - dot(at, target)[:, None] * at
    size = np.sqrt(dot(ahead, ahead))
    return np.where(size[:, None] > 1e-12, unit(np.where(size[:, None] > 1e-12, ahead, at)), at)
