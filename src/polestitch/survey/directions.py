"""What to do with pins that are off, in the maker's terms: toward which pin, and what the strip must read then.

In: the adjusted pins and where they ought to be.  Out: ``Move`` and ``Gap`` records.
"""

import itertools
import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from polestitch.sphere.arcs import Points, arc_angle, toward
from polestitch.survey.field import CLOSE, FAR
from polestitch.survey.moves import Placed, headings
from polestitch.survey.network import Network

STRAIGHT = math.radians(25)  # a move this near to a neighbour's direction is told as one
APART = math.radians(50)  # between the directions of two checks
NEIGHBOURS, POLES = 6, ("N", "S")
NEAR_ENOUGH = 1e-9
Names = tuple[str, ...]
Flags = NDArray[np.bool_]


@dataclass(frozen=True)
class Part:
    """One part of a move: so many mm toward a pin."""

    mm: float
    toward: str


@dataclass(frozen=True)
class Check:
    """What the strip must read from a pin that stands, when the move is made."""

    point: str
    mm: float


@dataclass(frozen=True)
class Move:
    """A pin that must move."""

    point: str
    mm: float
    parts: tuple[Part, ...]
    checks: tuple[Check, ...]


@dataclass(frozen=True)
class Gap:
    """Two neighbouring pins: what lies between them now, and what should."""

    first: str
    second: str
    mm: float
    wanted_mm: float


def moves(names: Names, found: Network, turned: Placed) -> tuple[Move, ...]:
    """Every pin that does not stand, the farthest off first."""
    size = found.size_mm
    ahead = headings(found.at, turned.target)
    going = [k for k in np.argsort(-turned.off, kind="stable") if turned.known[k] and not turned.stands[k]]
    return tuple(
        Move(
            names[k],
            float(turned.off[k] * size),
            _parts(names, found.at, turned.known, int(k), ahead[k] * float(turned.off[k] * size)),
            _checks(names, turned, int(k), size),
        )
        for k in going
    )


def _parts(names: Names, at: Points, known: Flags, k: int, way: Points) -> tuple[Part, ...]:
    """A move as one way toward a neighbour or a pole, or as two ways toward two of them."""
    poles = [j for j, name in enumerate(names) if name in POLES and CLOSE < arc_angle(at[j], at[k]) < FAR]
    all_near = [j for j in _neighbours(at, k, len(at)) if known[j]]
    near = list(dict.fromkeys([*all_near[:NEIGHBOURS], *(j for j in poles if known[j])]))
    mm = float(np.linalg.norm(way))
    if not near:
        return ()
    ahead = way / mm
    ways = np.array([toward(at[k], at[j]) for j in near])
    order = np.argsort(-(ways @ ahead), kind="stable")
    first = order[0]
    if ways[first] @ ahead >= math.cos(STRAIGHT):
        return (Part(float(mm * (ways[first] @ ahead)), names[near[first]]),)
    best = math.inf
    told: tuple[Part, ...] = (Part(mm, names[near[first]]),)
    for one, other in itertools.combinations(order, 2):
        sides = np.stack([ways[one], ways[other]], axis=1)
        shares, *_ = np.linalg.lstsq(sides, ahead, rcond=None)
        across = abs(float(ways[one] @ ways[other]))
        # Two ways at right angles do not disturb each other: a slant one costs as much as it makes the other longer.
        cost = float(shares.sum()) * (1 + across)
        if shares.min() >= 0 and across < math.cos(STRAIGHT) and cost < best - NEAR_ENOUGH:
            best = cost
            told = tuple(Part(float(mm * share), names[near[j]]) for share, j in zip(shares, (one, other), strict=True))
    return told


def _neighbours(at: Points, k: int, most: int) -> list[int]:
    apart = np.asarray(arc_angle(at, at[k]))
    return [int(j) for j in np.argsort(apart, kind="stable") if CLOSE < apart[j] < FAR][:most]


def _checks(names: Names, turned: Placed, k: int, size: float) -> tuple[Check, ...]:
    """Three pins that stand, near and in different directions."""
    target, chosen = turned.target, list[int]()
    for j in _neighbours(target, k, len(target)):
        way = toward(target[k], target[j])
        if turned.stands[j] and all(way @ toward(target[k], target[c]) < math.cos(math.radians(50)) for c in chosen):
            chosen.append(j)
        if len(chosen) == 3:
            break
    return tuple(Check(names[j], float(arc_angle(target[k], target[j]) * size)) for j in chosen)


def gaps(names: Names, found: Network, turned: Placed) -> tuple[Gap, ...]:
    """Nearest neighbours that are both known, the pair that differs most from its wanted distance first."""
    size = found.size_mm
    pairs = {tuple(sorted((k, j))) for k in range(len(names)) for j in _neighbours(turned.target, k, 4)}
    found_gaps = [
        Gap(
            names[i],
            names[j],
            float(arc_angle(found.at[i], found.at[j]) * size),
            float(arc_angle(turned.target[i], turned.target[j]) * size),
        )
        for i, j in sorted(pairs)
        if turned.known[i] and turned.known[j]
    ]
    return tuple(sorted(found_gaps, key=lambda gap: -abs(gap.mm - gap.wanted_mm)))
