"""Another number of lines at each pole: n from N and m from S, all of them ending at the obi.

In: both numbers.  Out: a ``Marking``.  The obi is laid, since it holds the ends.
Line 1 of N and line 1 of S lie toward +x.  "obi 3" is where line 3 of N ends; a spot where only a
line of S ends is called by it: "obi 3 of S".
"""

import math
from dataclasses import replace

import numpy as np

from polestitch.marking.marking import Guideline, Marking, Point, Spoke
from polestitch.marking.simple import NORTH, QUARTER, SOUTH
from polestitch.sphere.arcs import Points, arc_angle, cross


def split(north: int, south: int) -> Marking:
    """The marking with ``north`` lines from N to the obi and ``south`` from S."""
    spots = _spots(north, south)
    names, at = [name for name, _ in spots], np.stack([place for _, place in spots])
    at.setflags(write=False)
    poles = {"N": _at_pole("N", north, names, at), "S": _at_pole("S", south, names, at)}
    spokes = {**poles, **_on_obi(names, at, poles)}
    points = [Point(name, "obi", len(spokes[name]), place) for name, place in zip(names, at)]
    return Marking(
        division=f"S{north}/S{south}",
        points=(Point("N", "centre", north, NORTH), *points, Point("S", "centre", south, SOUTH)),
        places=(),
        guidelines=_guidelines(poles, at[0]),
        triangles=north + south,
        spokes=spokes,
    )


def _spots(north: int, south: int) -> list[tuple[str, Points]]:
    """Names and places on the obi, from line 1 to the right; lines that meet there share a spot."""
    least = math.lcm(north, south)
    named = {k * (least // south): f"obi {k + 1} of S" for k in range(south)}
    named |= {k * (least // north): f"obi {k + 1}" for k in range(north)}
    turns = {part: 2 * math.pi * part / least for part in sorted(named)}
    return [(named[part], np.array([math.cos(turn), math.sin(turn), 0.0])) for part, turn in turns.items()]


def _at_pole(pole: str, count: int, names: list[str], at: Points) -> tuple[Spoke, ...]:
    """Lines of one pole, each to its own spot on the obi."""
    heads = 2 * math.pi * np.arange(count) / count
    ends = (at @ np.stack([np.cos(heads), np.sin(heads), np.zeros(count)])).argmax(axis=0).tolist()
    word = "" if pole == "N" else " of S"
    return tuple(Spoke(k + 1, f"line {k + 1}{word}", at[end], QUARTER, names[end]) for k, end in enumerate(ends))


def _on_obi(names: list[str], at: Points, poles: dict[str, tuple[Spoke, ...]]) -> dict[str, tuple[Spoke, ...]]:
    """Lines of each obi spot: toward N where there is one, left, toward S where there is one, right."""
    ends = {pole: {spoke.end for spoke in spokes} for pole, spokes in poles.items()}
    found = {}
    for k, (name, place) in enumerate(zip(names, at)):
        before, after = (k - 1) % len(names), (k + 1) % len(names)
        right = cross(NORTH, place)
        ways = [(NORTH, QUARTER, "N")] if name in ends["N"] else []
        ways += [(-right, float(arc_angle(place, at[before])), names[before])]
        ways += [(SOUTH, QUARTER, "S")] if name in ends["S"] else []
        ways += [(right, float(arc_angle(place, at[after])), names[after])]
        found[name] = tuple(Spoke(n, f"line {n} of {name}", *way) for n, way in enumerate(ways, 1))
    return found


def _guidelines(poles: dict[str, tuple[Spoke, ...]], first: Points) -> tuple[Guideline, ...]:
    """Every line from its pole to the obi, and the obi."""
    lines = []
    for at, spokes in ((NORTH, poles["N"]), (SOUTH, poles["S"])):
        lines += [Guideline(spoke.name, cross(at, spoke.direction), at, QUARTER) for spoke in spokes]
    lines.append(Guideline("obi", NORTH, first, 2 * math.pi))
    return tuple(replace(line, normal=_kept(line.normal)) for line in lines)


def _kept(vector: Points) -> Points:
    vector = np.array(vector)
    vector.setflags(write=False)
    return vector
