"""Turns of the ball that bring spots of each kind onto spots of the same kind.

In: unit vectors and their kinds.  Out: permutations.
"""

import numpy as np
from numpy.typing import NDArray

from polestitch.colouring.rules import Indices
from polestitch.sphere.arcs import Points, cross, dot, unit

SAME = 1e-6


def turns(at: Points, kinds: NDArray[np.intp], mirrors: bool = False) -> tuple[Indices, ...]:
    """Every rotation that takes ``at`` (n, 3) onto itself, kinds too, as permutations (n,); standing still first.

    With ``mirrors`` those that a mirror adds as well.  A turn is known by where two spots go that are not opposite
    each other.  Spots that all lie on one axis turn by a half at most: what turns about the axis leaves them where
    they are, and so does a mirror through it.
    """
    first, second = _pair(at, kinds)
    if second is None:
        return _along_an_axis(at, kinds)
    cosine = float(at[first] @ at[second])
    starts = np.flatnonzero(kinds == kinds[first])
    ends = np.flatnonzero(kinds == kinds[second])
    pairs = [(int(i), int(j)) for i in starts for j in ends if abs(at[i] @ at[j] - cosine) < SAME]
    own = _frame(at[first], at[second])
    found: dict[tuple[int, ...], None] = {tuple(range(len(at))): None}
    for i, j in pairs:
        for hand in (1.0, -1.0) if mirrors else (1.0,):
            order = _permutation(at, kinds, _frame(at[i], at[j]) * np.array([1.0, 1.0, hand]) @ own.T)
            if order is not None:
                found.setdefault(tuple(int(k) for k in order))
    return tuple(np.array(order) for order in found)


def _pair(at: Points, kinds: NDArray[np.intp]) -> tuple[int, int | None]:
    """The spot of the rarest kind, and one beside it that is neither it nor its opposite."""
    rare = int(min(range(len(at)), key=lambda k: (int((kinds == kinds[k]).sum()), k)))
    aside = [k for k in range(len(at)) if abs(at[k] @ at[rare]) < 1 - SAME]
    return rare, min(aside, key=lambda k: (int((kinds == kinds[k]).sum()), k), default=None)


def _along_an_axis(at: Points, kinds: NDArray[np.intp]) -> tuple[Indices, ...]:
    """Standing still, and upside down where every spot has one of its kind at the other end."""
    still = np.arange(len(at))
    swapped = _permutation(at, kinds, -np.eye(3))
    return (still,) if swapped is None or (swapped == still).all() else (still, swapped)


def _frame(one: Points, other: Points) -> Points:
    aside = unit(other - dot(one, other) * one)
    return np.stack([one, aside, cross(one, aside)], axis=1)


def _permutation(at: Points, kinds: NDArray[np.intp], turn: Points) -> Indices | None:
    """Where each spot goes; ``None`` where one goes to no spot of its kind."""
    near = np.where(kinds[:, None] == kinds[None], (at @ turn.T) @ at.T, -2.0)
    order = np.asarray(near.argmax(axis=1))
    fits = (near.max(axis=1) > 1 - SAME).all() and len(set(order.tolist())) == len(at)
    return order if fits else None
