"""The pin plan: in which order pins go in, each measured from pins that are already there.

In: a marking, the ball, and what was measured on it.  Out: ``Pin`` records in order.

The order is the makers': N, S, the pins round the middle (opposite first), then the pins of a
combination, along the lines of its simple base (S8 for C8, S10 for C10, S6 for C6).
The trade's rules of thumb stand beside the exact distances: C/6 + C/100 for C10 (published,
http://temarikai.com/HowToPages/VRulerchart.html), C/6 + 3C/100 for C6 (published,
http://www.temarikai.com/Tutorials/C6Tutorial/c6tutorial.html), C/8 for C8, which is exact.
"""

import math

import numpy as np

from polestitch.ball.ball import Ball
from polestitch.ball.measured import Roundness
from polestitch.marking.address import Place, point
from polestitch.marking.distances import TURN, Distance, Girths, Pin
from polestitch.marking.marking import Marking
from polestitch.marking.net_pins import net_pins
from polestitch.sphere.arcs import Points, arc_angle, move, toward
from polestitch.sphere.lines import NEAR

__all__ = ["RULES", "Distance", "Pin", "pin_plan"]
RULES = {"C6": 1 / 6 + 3 / 100, "C8": 1 / 8, "C10": 1 / 6 + 1 / 100}  # of the way round the ball


def pin_plan(marking: Marking, ball: Ball, measured: Roundness | None = None) -> tuple[Pin, ...]:
    """Every pin in order; distances follow ``measured`` along each meridian where readings differ."""
    girth = Girths(ball, measured)
    if marking.net is not None:
        return net_pins(marking.net, girth)
    north, south = point(marking, "N"), point(marking, "S")
    pins = [Pin("N", "", (), ()), Pin("S", "", (girth.between(south, north),), girth.half_ways())]
    pins += _round_the_middle(marking, girth)
    pins += _of_south(marking, girth)
    pins += _of_combination(marking, girth)
    return tuple(pins)


def _round_the_middle(marking: Marking, girth: Girths) -> list[Pin]:
    """A pin where each line crosses the equator; measured from the first pin and the one opposite."""
    ways = len(marking.spokes["N"])
    spots = [point(marking, f"obi {k + 1}") for k in range(ways)]
    north, south = point(marking, "N"), point(marking, "S")
    opposite = ways // 2 if ways % 2 == 0 else None
    order = [0, *([opposite] if opposite else []), *(k for k in range(1, ways) if k != opposite)]
    pins = []
    for done, k in enumerate(order):
        anchors = [spots[a] for a in order[: min(done, 2 if opposite else 1)]]
        nearest = min(anchors, key=lambda anchor: round(float(arc_angle(anchor.at, spots[k].at)), 9), default=None)
        placed = {order[n] for n in range(done)} - ({order[0]} if nearest is spots[0] else set())
        beside = [spots[b] for b in ((k - 1) % ways, (k + 1) % ways) if b in placed and spots[b] is not nearest]
        measured = [girth.between(spots[k], other) for other in (north, nearest) if other]
        check = [girth.between(spots[k], other) for other in (south, *beside)]
        marked_here = any(known.name == spots[k].name for known in marking.points)
        pins.append(Pin(spots[k].name, f"line {k + 1}", tuple(measured), tuple(check), helper=not marked_here))
    return pins


def _of_south(marking: Marking, girth: Girths) -> list[Pin]:
    """A pin where a line of S ends and none of N: from S, and along the obi from the nearest pin of N's lines."""
    south, lines = point(marking, "S"), marking.spokes["S"]
    known = [point(marking, f"obi {k + 1}") for k in range(len(marking.spokes["N"]))]
    pins = []
    for line in (each for each in lines if each.end.endswith(" of S")):
        spot = point(marking, line.end)
        gaps = [round(float(arc_angle(spot.at, other.at)), 9) for other in known]
        told = [girth.between(spot, other) for other in (south, known[int(np.argmin(gaps))])]
        pins.append(Pin(spot.name, line.name, tuple(told), ()))
    return pins


def _of_combination(marking: Marking, girth: Girths) -> list[Pin]:
    """Pins on alternate lines from N and on the others (C8: the same ones) from S."""
    if marking.division not in RULES:
        return []
    rule = RULES[marking.division]
    kind = "diamond" if marking.division == "C8" else "centre"
    poles = {True: point(marking, "N"), False: point(marking, "S")}
    spots = [point(marking, known.name) for known in marking.of_kind(kind) if _off_equator(known.at[2])]
    pins: list[Pin] = []
    for n, spot in enumerate(spots):
        line = _line_of(marking, spot)
        foot = point(marking, f"obi {line}")
        measured = (girth.between(spot, poles[bool(spot.at[2] > 0)], rule), girth.between(spot, foot, 1 / 4 - rule))
        pins.append(Pin(spot.name, f"line {line}", measured, _neighbours(spot, spots[:n], rule, girth)))
    return pins


def _by_rule(spot: Place, rule: float) -> Points:
    """Where the pin stands when it is set by the rule of thumb instead."""
    pole = np.array([0.0, 0.0, math.copysign(1.0, spot.at[2])])
    return move(pole, toward(pole, spot.at), rule * TURN)


def _off_equator(height: float) -> bool:
    return NEAR < abs(height) < 1 - NEAR


def _line_of(marking: Marking, spot: Place) -> int:
    """The number of N's line that ``spot`` lies on."""
    return max((float(spoke.direction @ spot.at), spoke.number) for spoke in marking.spokes["N"])[1]


def _neighbours(spot: Place, placed: list[Place], rule: float, girth: Girths) -> tuple[Distance, ...]:
    """Distances to the nearest of the like pins already in, which all come out equal (by rule: nearly)."""
    gaps = [(float(arc_angle(spot.at, other.at)), other) for other in placed]
    nearest = min((gap for gap, _ in gaps), default=0.0)
    beside = [other for gap, other in gaps if gap < nearest + 1e-6]
    shares = [float(arc_angle(_by_rule(spot, rule), _by_rule(other, rule))) / TURN for other in beside]
    return tuple(girth.between(spot, other, share) for other, share in zip(beside, shares))
