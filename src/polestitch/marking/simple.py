"""Simple divisions: n guidelines from pole to pole, with or without an obi.

In: how many, and whether the obi is marked.  Out: a ``Marking``.
"""

import math

import numpy as np

from polestitch.marking.marking import Guideline, Marking, Point, Spoke
from polestitch.sphere.arcs import Points, cross

NORTH, SOUTH = np.array([0.0, 0.0, 1.0]), np.array([0.0, 0.0, -1.0])
NORTH.setflags(write=False)
SOUTH.setflags(write=False)
QUARTER = math.pi / 2


def simple(ways: int, obi: bool) -> Marking:
    """The marking of ``ways`` half circles from N to S; line 1 lies toward +x."""
    heads = _heads(ways)
    poles = [Point("N", "centre", ways, NORTH), Point("S", "centre", ways, SOUTH)]
    spots = [Point(f"obi {k + 1}", "obi", 4 if obi else 2, head) for k, head in enumerate(heads)]
    return Marking(
        division=f"S{ways}" + ("+obi" if obi else ""),
        points=(poles[0], *(spots if obi else ()), poles[1]),
        places=() if obi else tuple(spots),
        guidelines=_guidelines(heads, obi),
        triangles=2 * ways if obi else ways,
        spokes=_spokes(heads, obi),
    )


def _heads(ways: int) -> Points:
    turn = 2 * math.pi * np.arange(ways) / ways
    heads = np.stack([np.cos(turn), np.sin(turn), np.zeros(ways)], axis=1)
    heads.setflags(write=False)
    return heads


def _guidelines(heads: Points, obi: bool) -> tuple[Guideline, ...]:
    ways, normals = len(heads), cross(NORTH, heads)
    normals.setflags(write=False)
    whole = ways % 2 == 0  # opposite lines are one great circle; with an odd number none has an opposite
    count, sweep = (ways // 2, 2 * math.pi) if whole else (ways, math.pi)
    names = [f"line {k + 1}-{k + 1 + count}" if whole else f"line {k + 1}" for k in range(count)]
    lines = [Guideline(name, normal, NORTH, sweep) for name, normal in zip(names, normals)]
    return tuple(lines) + ((Guideline("obi", NORTH, heads[0], 2 * math.pi),) if obi else ())


def _spokes(heads: Points, obi: bool) -> dict[str, tuple[Spoke, ...]]:
    """Spokes of both poles and of every obi spot; both poles use N's line numbers."""
    ways = len(heads)
    at_pole = tuple(Spoke(k + 1, f"line {k + 1}", head, QUARTER, f"obi {k + 1}") for k, head in enumerate(heads))
    spokes = {"N": at_pole, "S": at_pole}
    right = cross(NORTH, heads)
    left = -right
    right.setflags(write=False)
    left.setflags(write=False)
    step = 2 * math.pi / ways
    for k in range(ways):
        name = f"obi {k + 1}"
        before, after = f"obi {(k - 1) % ways + 1}", f"obi {(k + 1) % ways + 1}"
        ends = [(NORTH, QUARTER, "N"), (left[k], step, before), (SOUTH, QUARTER, "S"), (right[k], step, after)]
        spokes[name] = tuple(_spoke(name, n + 1, *end) for n, end in enumerate(ends if obi else ends[::2]))
    return spokes


def _spoke(place: str, number: int, direction: Points, reach: float, end: str) -> Spoke:
    return Spoke(number, f"line {number} of {place}", direction, reach, end)
