"""Laid thread made by hand, without document or techniques."""

from itertools import pairwise

import numpy as np

from polestitch.laying.laid import Laid
from polestitch.sphere.arcs import Points, arc_angle, unit


class Hand:
    """Collects rows of arcs, each row a motif, each arc a span of its own unless a row is one chain."""

    def __init__(self, pitch: float = 0.02) -> None:
        self.pitch = pitch
        self.arcs: list[tuple[Points, float, Points, float]] = []
        self.span: list[int] = []
        self.span_row: list[int] = []
        self.thread: list[int] = []

    def row(self, points: Points, thread: int = 0, chain: bool = False) -> "Hand":
        """Great-circle arcs from point to point."""
        row = len(self.thread)
        for k, (a, b) in enumerate(pairwise(points)):
            self._arc((unit(np.cross(a, b)), 0.0, a, float(arc_angle(a, b))), row, new=k == 0 or not chain)
        self.thread.append(thread)
        return self

    def turn(self, axis: Points, offset: float = 0.0, thread: int = 0) -> "Hand":
        """A whole turn of the circle ``axis . x = offset``."""
        axis = unit(np.asarray(axis, dtype=float))
        side = unit(np.cross(axis, [0.31, 0.17, 0.93]))
        start = offset * axis + np.sqrt(1 - offset**2) * side
        self._arc((axis, offset, start, 2 * np.pi), len(self.thread), new=True)
        self.thread.append(thread)
        return self

    def _arc(self, arc: tuple[Points, float, Points, float], row: int, new: bool) -> None:
        if new:
            self.span_row.append(row)
        self.arcs.append(arc)
        self.span.append(len(self.span_row) - 1)

    def laid(self) -> Laid:
        """All of it, in the order it was added."""
        normal, offset, start, sweep = zip(*self.arcs) if self.arcs else ([], [], [], [])
        rows = len(self.thread)
        none = np.zeros(rows, dtype=np.int32)
        return Laid(
            np.array(normal, dtype=float).reshape(-1, 3),
            np.array(offset, dtype=float),
            np.array(start, dtype=float).reshape(-1, 3),
            np.array(sweep, dtype=float),
            np.array(self.span, dtype=np.int32),
            np.array(self.span_row, dtype=np.int32),
            none,
            np.arange(rows, dtype=np.int32),
            none + 1,
            np.array(self.thread, dtype=np.int32),
            np.full(rows, self.pitch),
        )


def scattered(count: int, seed: int = 1) -> Points:
    """Points spread at random, evenly over the ball."""
    return unit(np.random.default_rng(seed).normal(size=(count, 3)))


def tangle(spans: int, seed: int = 3, pitch: float = 0.05) -> Laid:
    """Random spans, whole turns and small circles, some of them along the pole's parallels."""
    chance = np.random.default_rng(seed)
    hand = Hand(pitch)
    for k in range(spans):
        if k % 5 == 0:
            axis = np.array([0.0, 0.0, 1.0]) if k % 10 == 0 else chance.normal(size=3)
            hand.turn(axis, float(chance.uniform(-0.8, 0.8)))
        else:
            hand.row(unit(chance.normal(size=(2, 3))))
    return hand.laid()
