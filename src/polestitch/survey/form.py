"""A form to fill in: which distances to measure, as a table with an empty column.

In: a marking and her ball.  Out: ``Asked`` distances, and the text of a CSV file that ``readings_of`` reads back.
"""

import csv
import io
from dataclasses import dataclass

from polestitch.marking.marking import Marking
from polestitch.marking.pins import pin_plan
from polestitch.sphere.arcs import arc_angle
from polestitch.survey.field import FAR, Field, Measured, field
from polestitch.survey.network import LOOSE, Network, Observed, begun
from polestitch.survey.nextone import most_telling
from polestitch.survey.survey import PLANNED, Care

Pairs = dict[frozenset[int], tuple[int, int]]


ENOUGH_ROUNDS, AT_ONCE = 60, 24


@dataclass(frozen=True)
class Asked:
    """A distance to measure, and what it should be."""

    first: str
    second: str
    mm: float


def asked(marking: Marking, measured: Measured) -> tuple[Asked, ...]:
    """Distances of the pin plan, and as many more as it takes to know every pin."""
    pins = field(marking, measured, ())
    pairs = _planned(marking, measured, pins)
    found = _network(pins, measured, pairs)
    for _ in range(ENOUGH_ROUNDS):
        loose = found.loose > LOOSE
        if not loose.any():
            break
        telling = most_telling(found, set(pairs), Care().sigma_mm, pins.around_mm, count=AT_ONCE)
        more = _apart(telling, max(1, int(loose.sum()) // 6))
        if not more:
            break
        pairs |= {frozenset(pair): pair for pair in more}
        found = _network(pins, measured, pairs)
    spots, names = pins.spots, pins.names
    return tuple(Asked(names[i], names[j], pins.girths.between(spots[i], spots[j]).mm) for i, j in pairs.values())


def form(marking: Marking, measured: Measured) -> str:
    """The distances as a table, each with what it should be."""
    text = io.StringIO(newline="")
    writer = csv.writer(text, lineterminator="\r\n")
    writer.writerow(["from", "to", "mm", "via", "should be"])
    for one in asked(marking, measured):
        writer.writerow([one.first, one.second, "", "", f"{one.mm:.1f}"])
    return text.getvalue()


def _apart(telling: list[tuple[int, int, float]], most: int) -> list[tuple[int, int]]:
    """The most telling pairs of which no two share a pin: readings of one pin would say the same twice."""
    used, chosen = set[int](), list[tuple[int, int]]()
    for i, j, _ in telling:
        if i not in used and j not in used and len(chosen) < most:
            used |= {i, j}
            chosen.append((i, j))
    return chosen


def _planned(marking: Marking, measured: Measured, pins: Field) -> Pairs:
    index = {name: k for k, name in enumerate(pins.names)}
    pairs: Pairs = {}
    for pin in pin_plan(marking, measured.ball, measured.roundness):
        for distance in (*pin.measured, *pin.check):
            ends = (index[distance.point], index[pin.point])
            if float(arc_angle(pins.spots[ends[0]].at, pins.spots[ends[1]].at)) < FAR and ends[0] != ends[1]:
                pairs.setdefault(frozenset(ends), ends)
    return pairs


def _network(pins: Field, measured: Measured, pairs: Pairs) -> Network:
    """Doubts of readings not yet taken."""
    around = pins.around_mm
    seen = [Observed(ends, 0.0, Care().sigma_mm, (float(around[ends]),)) for ends in pairs.values()]
    return begun(pins.wanted, seen, PLANNED, measured.ball.radius_mm)
