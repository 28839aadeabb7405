"""A form to fill in: which distances to measure, as a table with an empty column.

In: a marking and her ball.  Out: the text of a CSV file that ``readings_of`` reads back.
"""

import csv
import io

from polestitch.marking.marking import Marking
from polestitch.marking.pins import pin_plan
from polestitch.sphere.arcs import arc_angle
from polestitch.survey.field import FAR, Field, Measured, field
from polestitch.survey.network import LOOSE, Network, Observed, network
from polestitch.survey.nextone import most_telling
from polestitch.survey.survey import PLANNED, Care

Pairs = dict[frozenset[int], tuple[int, int]]


def form(marking: Marking, measured: Measured) -> str:
    """Distances of the pin plan, and as many more as it takes to know every pin; each with what it should be."""
    pins = field(marking, measured, ())
    pairs = _planned(marking, measured, pins)
    found = _network(pins, measured, pairs)
    while (found.loose > LOOSE).any():
        telling = most_telling(found, set(pairs), Care().sigma_mm, pins.around_mm, count=1)
        if not telling:
            break
        i, j, _ = telling[0]
        pairs[frozenset((i, j))] = (i, j)
        found = _network(pins, measured, pairs)
    text = io.StringIO(newline="")
    writer = csv.writer(text, lineterminator="\r\n")
    writer.writerow(["from", "to", "mm", "via", "should be"])
    for i, j in pairs.values():
        due = pins.girths.between(pins.spots[i], pins.spots[j]).mm
        writer.writerow([pins.names[i], pins.names[j], "", "", f"{due:.1f}"])
    return text.getvalue()


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
    radius, around = measured.ball.radius_mm, pins.around_mm
    seen = [Observed(ends, 0.0, Care().sigma_mm, (float(around[ends]),)) for ends in pairs.values()]
    level = network(pins.wanted, [], PLANNED, radius)
    due = [one.mm - float(off) for one, off in zip(seen, level.lacking(seen), strict=True)]
    exact = [Observed(one.chain, mm, one.sigma_mm, one.around_mm) for one, mm in zip(seen, due, strict=True)]
    return network(pins.wanted, exact, PLANNED, radius)
