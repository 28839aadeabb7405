"""The wrap: fine thread wound at random all over the ball, which is the ground of every picture.

In: a count and a width.  Out: ``Laid`` of nearly great circles, the same ones every time.
"""

from functools import cache

import numpy as np

from polestitch.laying.laid import Laid
from polestitch.sphere.arcs import Points, unit


@cache
def windings(turns: int, width: float) -> Laid:
    """``turns`` turns ``width`` radians wide, in every direction (the thread never lies parallel on a real wrap)."""
    chance = np.random.default_rng(20)
    normal = unit(_even(turns)[chance.permutation(turns)] + chance.normal(scale=0.04, size=(turns, 3)))
    offset = chance.normal(scale=0.06, size=turns)
    aside = unit(np.cross(normal, chance.normal(size=(turns, 3))))
    start = offset[:, None] * normal + np.sqrt(1 - offset**2)[:, None] * aside
    index = np.arange(turns, dtype=np.int32)
    none = np.zeros(turns, dtype=np.int32)
    widths = np.full(turns, width)
    return Laid(
        normal, offset, start, np.full(turns, 2 * np.pi), index, index, none, none, index + 1, none.copy(), widths
    )


def _even(count: int) -> Points:
    """(count, 3) unit vectors spread evenly over half the ball, on a spiral by the golden ratio: axes, not points."""
    z = 1 - (np.arange(count) + 0.5) / count
    turn = np.pi * (1 + np.sqrt(5)) * np.arange(count)
    r = np.sqrt(1 - z**2)
    return np.stack([r * np.cos(turn), r * np.sin(turn), z], axis=1)
