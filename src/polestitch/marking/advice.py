"""Marking advice: orders of placing pins and ways of laying lines, the steadiest first.

In: a marking, how far off one measure usually is.  Out: ``Advice`` records in rank order.
"""

from dataclasses import dataclass

import numpy as np

from polestitch.marking.marking import Guideline, Marking, Point
from polestitch.marking.placing import Order, orders
from polestitch.marking.spread import judged, rms, spread
from polestitch.sphere.arcs import Points, cross, dot
from polestitch.sphere.lines import NEAR

SIGMA_MM = 0.5  # half a millimetre: what strip and pin can do, not a maker's own figure


@dataclass(frozen=True)
class Advice:
    """One order with one way to lay lines, and how far off things usually end, in mm (root mean square)."""

    order: str
    how: str
    laying: str
    measures: int  # distances set in all
    last: str  # the pin placed last
    last_mm: float
    worst: str  # the pin that is usually farthest off
    worst_mm: float
    crossings_mm: float | None  # the worst crossing found by laying lines; none where every point has a pin


def advice(marking: Marking, sigma_mm: float = SIGMA_MM) -> tuple[Advice, ...]:
    """Every sensible order and laying, ranked by the worst pin, then the worst crossing, then the fewest measures."""
    found = [one for order in orders(marking) for one in _of_order(marking, order, sigma_mm)]
    return tuple(sorted(found, key=lambda a: (round(a.worst_mm, 6), round(a.crossings_mm or 0.0, 6), a.measures)))


def _of_order(marking: Marking, order: Order, sigma_mm: float) -> list[Advice]:
    told = spread(order)
    shifts = judged(order, told)
    off = {name: rms(shift, sigma_mm) for name, shift in shifts.items()}
    last = next(placing.point for placing in reversed(order.placings) if placing.point in off)
    worst = max(off, key=lambda name: (round(off[name], 9), name == last))
    measures = sum(len(placing.measured) + (placing.on is not None) for placing in order.placings)
    frames = {name: told.frame[name] for name in shifts}
    found = []
    for laying, every in (("from pin to pin", False), ("eased to every pin it passes", True)):
        crossing = _worst_crossing(marking, order, (shifts, frames), every)
        crossing_mm = None if crossing is None else sigma_mm * crossing
        found.append(Advice(order.name, order.how, laying, measures, last, off[last], worst, off[worst], crossing_mm))
    return found if found[0].crossings_mm is not None else found[:1]


Shifts = tuple[dict[str, Points], dict[str, Points]]


def _worst_crossing(marking: Marking, order: Order, pins: Shifts, every: bool) -> float | None:
    """Root mean square shift of the worst point that has no pin and lies on two lines that have two."""
    if marking.net is not None:
        return None
    rank = {placing.point: n for n, placing in enumerate(order.placings)}
    sways = {line.name: _sway(line, order, pins, rank, every) for line in marking.guidelines if not line.support}
    offs = [
        _crossing_off(spot, [(line, sways[line.name]) for line in marking.guidelines if line.name in sways])
        for spot in marking.points
        if spot.name not in pins[0]
    ]
    known = [off for off in offs if off is not None]
    return max(known) if known else None


def _sway(line: Guideline, order: Order, pins: Shifts, rank: dict[str, int], every: bool) -> Points | None:
    """(3, errors) the small turn of a line laid by its pins: all of them, or the first two that are not opposite."""
    shifts, frames = pins
    on = sorted((n for n in shifts if abs(float(line.normal @ order.at[n])) < NEAR), key=lambda name: rank[name])
    if not every:
        second = next((n for n in on[1:] if abs(float(order.at[n] @ order.at[on[0]])) < 1 - 1e-6), None)
        on = [on[0], second] if second else []
    if len(on) < 2:
        return None
    across = np.stack([line.normal @ frames[name].T @ shifts[name] for name in on])
    # a turn w moves a spot x by w x x, across the line by w . (x x n)
    levers = cross(np.stack([order.at[name] for name in on]), line.normal)
    return np.asarray(np.linalg.pinv(levers, rcond=1e-9) @ across) if np.linalg.matrix_rank(levers, 1e-6) == 2 else None


def _crossing_off(spot: Point, lines: list[tuple[Guideline, Points | None]]) -> float | None:
    """Root mean square shift of the spot where laid lines cross; three or more are tacked in their middle."""
    on = [(line, sway) for line, sway in lines if sway is not None and abs(float(line.normal @ spot.at)) < NEAR]
    if len(on) < 2:
        return None
    normals = np.stack([line.normal for line, _ in on])
    across = np.stack([cross(spot.at, line.normal) @ sway for line, sway in on if sway is not None])
    shift = np.linalg.pinv(normals, rcond=1e-9) @ across
    return float(np.sqrt(dot(shift, shift).sum()))


def advice_said(ranked: tuple[Advice, ...], sigma_mm: float) -> str:
    """One sentence: which order to take, and what it is worth."""
    best, worst = ranked[0], ranked[-1]
    first = f"If a pin usually lands within {sigma_mm:g} mm, place them {best.order}"
    gain = worst.worst_mm / best.worst_mm if best.worst_mm else 1.0
    kept = f": no pin is then usually more than {best.worst_mm:.1f} mm off"
    return f"{first}{kept}, against {worst.worst_mm:.1f} mm {worst.order}." if gain > 1.05 else f"{first}{kept}."
