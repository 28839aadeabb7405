"""Orders of placing pins: for each pin, from which pins that are in it is measured.

In: a marking.  Out: ``Order`` records, each able to place every pin of the division.
Published orders: along the lines of the simple base (temarikai.com C6, C8, C10 pages), stepping off with a
V-ruler (http://temarikai.com/HowToPages/VRulerchart.html), C10 from S4 in pairs beside its six points
(exists at temarikai.com; its distance is exact geometry).  The others are common practice.
"""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from polestitch.ball.ball import Ball
from polestitch.marking.lattice import Rows
from polestitch.marking.marking import Marking
from polestitch.marking.pins import Pin, pin_plan
from polestitch.sphere.arcs import Points, arc_angle, toward

CLEAR = 0.35  # sine of the smallest angle at which two measures still fix a pin (20 degrees)
ALIKE = 1e-6


@dataclass(frozen=True)
class Placing:
    """One pin, at the distances it has from ``measured`` pins; ``on`` are the ends of a line it is set on."""

    point: str
    measured: tuple[str, ...]
    on: tuple[str, str] | None = None


@dataclass(frozen=True)
class Order:
    """One way to place every pin; ``helps`` come out again and are not judged."""

    name: str
    how: str
    placings: tuple[Placing, ...]
    at: dict[str, Points]  # where each pin belongs, (3,)
    helps: frozenset[str] = frozenset()


def orders(marking: Marking) -> tuple[Order, ...]:
    """Every order for this division, each different from all before it."""
    strip = _strip(marking)
    wanted = {name: at for name, at in strip.at.items() if name not in strip.helps}
    found = [strip]
    for name, how, chosen in _WAYS:
        found.append(Order(name, how, _outward(wanted, chosen), wanted))
    if marking.division == "C10":
        found.append(_from_six(marking, wanted))
    different = {order.placings: order for order in reversed(found)}
    return tuple(order for order in found if different[order.placings] is order)


def _strip(marking: Marking) -> Order:
    """The pin plan as the strip sheet tells it."""
    plan = pin_plan(marking, Ball(300.0))
    spot = {name: known.at for name, known in marking.by_name.items()}
    spot |= {f"obi {s.number}": s.direction for s in marking.spokes["N"] if f"obi {s.number}" not in spot}
    placings = tuple(Placing(pin.point, tuple(d.point for d in pin.measured), _ends(pin, spot)) for pin in plan)
    lines_only = marking.division.startswith("S")  # there the pins on the obi are what the lines run by
    helps = frozenset(pin.point for pin in plan if pin.helper and not lines_only)
    how = "Along the lines from pole to pole, each pin from a pole and from a pin on the obi or on its line."
    return Order("with the strip", how, placings, {pin.point: spot[pin.point] for pin in plan}, helps)


def _ends(pin: Pin, spot: dict[str, Points]) -> tuple[str, str] | None:
    """The two pins of the line a pin is set on: "N to centre 3", or the two it lies straight between."""
    first, joined, last = pin.on.partition(" to ")
    if joined:
        return first, last
    if len(pin.measured) == 2:
        first, last = (told.point for told in pin.measured)
        near, far = (float(arc_angle(spot[pin.point], spot[end])) for end in (first, last))
        if abs(near + far - float(arc_angle(spot[first], spot[last]))) < ALIKE and near + far < np.pi - ALIKE:
            return first, last
    return None


Chooser = Callable[[Points, Points], list[int]]


def _outward(wanted: dict[str, Points], chosen: Chooser) -> tuple[Placing, ...]:
    """Pins from the first one out, each measured from those of the pins already in that ``chosen`` picks."""
    names, at = list(wanted), np.array(list(wanted.values()))
    away = arc_angle(at[0], at).round(6)
    order = sorted(range(len(names)), key=lambda n: (away[n], n))
    placings = [Placing(names[order[0]], ())]
    for n in range(1, len(order)):
        known = order[:n]
        picked = chosen(at[order[n]], at[known]) if n > 1 else [0]
        placings.append(Placing(names[order[n]], tuple(names[known[k]] for k in picked)))
    return tuple(placings)


def _first_clear(at: Points, known: Points, by: Rows) -> list[int]:
    """The first of ``by``, and the next whose direction is clear of it."""
    ways = _ways(at, known)
    first = int(by[0])
    clear = [int(k) for k in by[1:] if 1 - float(ways[k] @ ways[first]) ** 2 > CLEAR**2]
    return [first, *clear[:1]] if clear else [first, *(int(k) for k in by[1:2])]


def _ways(at: Points, known: Points) -> Points:
    opposite = arc_angle(at, known) > np.pi - ALIKE
    return toward(at, np.where(opposite[:, None], np.roll(at, 1), known))


def _from_nearest(at: Points, known: Points) -> list[int]:
    return _first_clear(at, known, np.argsort(arc_angle(at, known).round(6), kind="stable"))


def _from_quarter(at: Points, known: Points) -> list[int]:
    off = np.abs(arc_angle(at, known) - np.pi / 2).round(6)
    return _first_clear(at, known, np.argsort(off, kind="stable"))


def _from_ring(at: Points, known: Points) -> list[int]:
    """Every neighbour; where they all lie on one line with the pin, one that is clear of the line too."""
    gaps = arc_angle(at, known).round(6)
    ring: list[int] = np.nonzero(gaps <= gaps.min() * 1.05 + ALIKE)[0].tolist()
    ways = _ways(at, known[ring])
    clear = 1 - float(np.square(ways @ ways[0]).min()) > CLEAR**2
    return ring if clear else list(dict.fromkeys((*ring, *_from_nearest(at, known))))


def _from_first_two(at: Points, known: Points) -> list[int]:
    return _first_clear(at, known, np.arange(len(known)))


_WAYS: tuple[tuple[str, str, Chooser], ...] = (
    ("from two neighbours", "Each pin from the two nearest pins that are in, as with a V-ruler.", _from_nearest),
    (
        "from all neighbours",
        "Each pin from every neighbour that is in, moved until all distances are equal.",
        _from_ring,
    ),
    ("from far pins", "Each pin from the two pins nearest to a quarter of the way round.", _from_quarter),
    ("from the first pins", "Each pin from N and from the first pin beside it that is clear of N.", _from_first_two),
)


def _from_six(marking: Marking, wanted: dict[str, Points]) -> Order:
    """C10 from S4 with obi: six points square to each other, then a pair of centres beside each."""
    diamonds = {point.name: point.at for point in marking.of_kind("diamond")}
    first = next(iter(diamonds.values()))
    turns = {name: abs(float(at @ first)) for name, at in diamonds.items()}
    square = [name for name, turn in turns.items() if turn > 1 - ALIKE or turn < ALIKE]
    six = {n: diamonds[n] for n in _one_frame(square, diamonds)}
    placings = list(_outward(six, _from_quarter))
    for name, at in wanted.items():
        gaps = {n: float(arc_angle(at, place)) for n, place in six.items()}
        near = sorted(gaps, key=lambda n: (round(gaps[n], 6), n))[:2]
        placings.append(Placing(name, (near[0],), (near[0], near[1])))
    how = "Six points of S4 with obi first, then a pin on the line each side of every point, 0.0881 C from it."
    return Order("from S4", how, tuple(placings), {**six, **wanted}, frozenset(six))


def _one_frame(names: list[str], at: dict[str, Points]) -> list[str]:
    """Three square axes out of points square to the first."""
    first = names[0]
    second = next(n for n in names if abs(float(at[n] @ at[first])) < ALIKE)
    axes = (first, second)
    third = [n for n in names if all(abs(float(at[n] @ at[a])) < ALIKE for a in axes)]
    return [n for n in names if any(abs(abs(float(at[n] @ at[a])) - 1) < ALIKE for a in (*axes, *third))]
