"""From a wanted size to a plan of winding.

In: what the ball shall measure, its core, the wraps and how densely they pack.  Out: ``Plan``.

Volumes are those of balls: a wrap from one circumference to another is the shell between them.  The last wrap is
given the thickness it needs, the others share what is left.
"""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import TypeVar

from polestitch.errors import DesignError
from polestitch.winding.materials import CORES, WRAPS, Core, Material, Range

Kind = TypeVar("Kind", Core, Material)
TURN = 2 * math.pi
# Winding adds 1 to 1.5 cm to the core (http://www.temarikai.com/HowToPages/wrappingmari.html), read as across: without
# a core of her own the plan takes the middle of that.
ADDED_MM = 12.5
SMALL_MM = 120.0  # round; smaller balls bring the needle's point near the fingers: our choice


@dataclass(frozen=True)
class Stop:
    """One wrap: stop when the ball measures ``around_mm``."""

    material: Material
    from_mm: float  # round, before
    around_mm: float  # round, after
    grams: Range
    metres: Range | None

    @property
    def thickness_mm(self) -> float:
        """How deep it lies."""
        return (self.around_mm - self.from_mm) / TURN


@dataclass(frozen=True)
class Plan:
    """A core, the wraps in order, and what the whole weighs."""

    wanted_mm: float
    core: Core
    core_mm: float  # round
    core_grams: Range
    core_ml: float | None  # loose, for what is measured in cups
    stops: tuple[Stop, ...]

    @property
    def grams(self) -> Range:
        """Weight of the base."""
        parts = [self.core_grams, *(stop.grams for stop in self.stops)]
        return Range(*(sum(part[k] for part in parts) for k in range(3)))

    @property
    def cautions(self) -> tuple[str, ...]:
        """What can hurt, and who decides."""
        small = (
            ("On so small a ball the needle's point comes out near your fingers: hold the ball in a cloth.",)
            if self.wanted_mm < SMALL_MM
            else ()
        )
        own = (self.core.caution,) if self.core.caution else ()
        return (*own, *small, TOYS)


TOYS = (
    "A bell, seeds or beads in the core are small parts: a ball for a child must meet your local rules for toys; ask "
    "somebody qualified when in doubt."
)


def winding(
    wanted_mm: float,
    core: str = "hulls",
    core_mm: float | None = None,
    wraps: Sequence[str] = ("thick yarn", "thin yarn", "sewing thread"),
    densities: Mapping[str, Range] | None = None,
) -> Plan:
    """A plan for a ball ``wanted_mm`` round; ``densities`` (g/cm³) are her own where she has measured.

    ``DesignError`` for an unknown core or wrap, and for a core that leaves no room for the wraps.
    """
    inside, outside = _known(core, CORES, "core"), [_known(wrap, WRAPS, "wrap") for wrap in wraps]
    packed = {name: middle.density for name, middle in CORES.items()}
    packed |= {name: wrap.density for name, wrap in WRAPS.items()} | dict(densities or {})
    core_mm = core_mm if core_mm is not None else wanted_mm - math.pi * ADDED_MM
    room = (wanted_mm - core_mm) / TURN
    least = sum(item.least_mm for item in outside)
    if core_mm <= 0 or room < least:
        raise DesignError(
            "core",
            f"a core {core_mm:.0f} mm round leaves {max(room, 0):.1f} mm for wraps that need {least:.1f} mm; take a "
            f"core of at most {wanted_mm - TURN * least:.0f} mm round, fewer wraps, or a larger ball",
        )
    stops, at = [], core_mm
    for item, depth in zip(outside, _depths(outside, room), strict=True):
        stop_mm = at + TURN * depth
        stops.append(_stop(item, packed[item.name], at, stop_mm))
        at = stop_mm
    volume = _ball_cm3(core_mm)
    loose = None if inside.loose is None else volume * inside.loose
    return Plan(wanted_mm, inside, core_mm, packed[core].times(volume), loose, tuple(stops))


def _depths(wraps: Sequence[Material], room: float) -> list[float]:
    """Each wrap's thickness in mm: what it needs, and its share of the rest; the last has what it needs and no more."""
    rest = room - sum(item.least_mm for item in wraps)
    shares = [item.share for item in wraps[:-1]]
    if not shares:
        return [room]
    return [*(item.least_mm + rest * item.share / sum(shares) for item in wraps[:-1]), wraps[-1].least_mm]


def _stop(item: Material, density: Range, before_mm: float, after_mm: float) -> Stop:
    grams = density.times(_ball_cm3(after_mm) - _ball_cm3(before_mm))
    metres = None if item.tex is None else grams.times(1000 / item.tex)
    return Stop(item, before_mm, after_mm, grams, metres)


def _ball_cm3(around_mm: float) -> float:
    """Volume of a ball by its circumference."""
    return 4 / 3 * math.pi * (around_mm / TURN / 10) ** 3


def shell_cm3(before_mm: float, after_mm: float) -> float:
    """Volume between two circumferences."""
    return _ball_cm3(after_mm) - _ball_cm3(before_mm)


def _known(name: str, among: Mapping[str, Kind], what: str) -> Kind:
    if name not in among:
        raise DesignError(what, f'"{name}" is not known here; take one of {", ".join(among)}')
    return among[name]
