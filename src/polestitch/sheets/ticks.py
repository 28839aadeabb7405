"""What a paper strip carries: pole, half, quarter, n-th marks and the division's own pin distances.

In: a division and the circumference.  Out: ``Tick``s in mm from N, and the pieces a page can hold.
"""

import math
from dataclasses import dataclass
from itertools import pairwise
from typing import Literal

import numpy as np

from polestitch.marking.divisions import marked
from polestitch.marking.marking import Marking
from polestitch.marking.pins import RULES
from polestitch.sphere.arcs import arc_angle

Kind = Literal["pole", "quarter", "pin", "rule", "line"]
STRENGTH: tuple[Kind, ...] = ("pole", "quarter", "pin", "rule", "line")
SAME_MM = 1e-6
RULE_WORDS = {"C10": "C/6 + C/100", "C6": "C/6 + 3 C/100", "C8": "C/8"}


@dataclass(frozen=True)
class Tick:
    """One mark on the strip."""

    at_mm: float
    kind: Kind
    names: tuple[str, ...]
    code: str  # what fits on the strip itself

    @property
    def label(self) -> str:
        """All its names."""
        return " · ".join(self.names)


@dataclass(frozen=True)
class Piece:
    """A length of strip from ``start`` to ``end`` mm of the whole."""

    start: float
    end: float


def pin_distance_mm(marking: Marking, around_mm: float) -> float | None:
    """Pole to the pins that make the combination, exactly; ``None`` for simple divisions and C4.

    C8 pins stand on the diamonds, half way from pole to obi; C6 and C10 pins on the centres round N.
    """
    wanted = {"C8": "diamond", "C6": "centre", "C10": "centre"}.get(marking.division)
    if wanted is None:
        return None
    north = marking.by_name["N"].at
    angles = arc_angle(north, np.stack([point.at for point in marking.of_kind(wanted)]))
    return float(angles[angles > 1e-9].min()) / (2 * math.pi) * around_mm


def ticks(division: str, around_mm: float) -> tuple[Tick, ...]:
    """Every mark, from N (0) round to N again (C), marks at the same place made one."""
    marking, c = marked(division), around_mm
    ways = len(marking.spokes["N"])
    found = [
        Tick(0.0, "pole", ("N",), "N"),
        Tick(c / 4, "quarter", ("obi",), "¼"),
        Tick(c / 2, "pole", ("S",), "S"),
        Tick(3 * c / 4, "quarter", ("obi",), "¾"),
        Tick(c, "pole", ("N again",), "N"),
    ]
    found += [Tick(c * k / ways, "line", (f"line {k + 1}",), str(k + 1)) for k in range(ways)]
    exact = pin_distance_mm(marking, c)
    if exact is not None:
        found += _at_both_poles(exact, c, "pin", "pin")
        found += _at_both_poles(RULES[marking.division] * c, c, "rule", "by rule")
    return _merged(found)


def _at_both_poles(distance: float, c: float, kind: Kind, word: str) -> list[Tick]:
    """A pin distance measured from N and from S, on the way down and on the way up again."""
    from_n, from_s = f"{word}, from N", f"{word}, from S"
    places = ((distance, from_n), (c / 2 - distance, from_s), (c / 2 + distance, from_s), (c - distance, from_n))
    return [Tick(at, kind, (name,), "") for at, name in places]


def _merged(found: list[Tick]) -> tuple[Tick, ...]:
    """Ticks in order, those at one place joined under the strongest kind."""
    merged: list[Tick] = []
    for tick in sorted(found, key=lambda tick: (round(tick.at_mm, 6), STRENGTH.index(tick.kind))):
        last = merged[-1] if merged else None
        if last is None or tick.at_mm - last.at_mm > SAME_MM:
            merged.append(tick)
        elif tick.kind != "rule":  # a rule that is exact needs no second name
            merged[-1] = Tick(last.at_mm, last.kind, (*last.names, *tick.names), last.code or tick.code)
    return tuple(merged)


def pieces(marks: tuple[Tick, ...], around_mm: float, whole_mm: float, part_mm: float) -> tuple[Piece, ...]:
    """The strip in as few pieces as can be, together exactly ``around_mm``.

    One piece may be ``whole_mm`` long; where more are needed each is at most ``part_mm``, and the
    joints keep clear of the marks as far as the room allows.
    """
    if around_mm <= whole_mm:
        return (Piece(0.0, around_mm),)
    count = math.ceil(around_mm / part_mm)
    slack = (part_mm - around_mm / count) / 2
    at = np.array([tick.at_mm for tick in marks])
    joints = [_joint(around_mm * k / count, slack, at) for k in range(1, count)]
    return tuple(Piece(a, b) for a, b in pairwise((0.0, *joints, around_mm)))


def _joint(wanted: float, slack: float, at: np.ndarray) -> float:
    """The place near ``wanted``, on half millimetres where possible, farthest from any mark."""
    steps = np.arange(math.ceil((wanted - slack) * 2), math.floor((wanted + slack) * 2) + 1) / 2
    places = np.append(steps, wanted)
    clear = np.minimum(np.abs(places[:, None] - at).min(axis=1), 5.0)  # 5 mm are clear enough
    return float(places[np.lexsort((np.abs(places - wanted), -clear))[0]])
