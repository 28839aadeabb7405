"""From a wanted size to a plan of winding.

In: what the ball shall measure, what it is made of and how densely that packs.  Out: ``Plan``.

Volumes are those of balls: a wrap from one circumference to another is the shell between them.  The last wrap is
given the thickness it needs, which a deep bite makes more, the others share what is left.
"""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from polestitch.errors import DesignError
from polestitch.winding.materials import CORES, WRAPS, Core, Material, Noise, Range
from polestitch.winding.parts import Had, Parts, made_of

TURN = 2 * math.pi
# Winding adds 1 to 1.5 cm to the core (http://www.temarikai.com/HowToPages/wrappingmari.html), read as across: without
# a core of her own the plan takes the middle of that.
ADDED_MM = 12.5
SPARE = 1.1
# How deep the needle goes, unless the maker's own is known: 250 yd of thread on a 2.5 in core, as published, lie so.
DIP_MM = 0.7


@dataclass(frozen=True)
class Stop:
    """One wrap: stop when the ball measures ``around_mm``."""

    material: Material
    from_mm: float  # round, before
    around_mm: float  # round, after
    grams: Range
    metres: Range | None
    had: float | None = None  # grams she has of it

    @property
    def thickness_mm(self) -> float:
        """How deep it lies."""
        return (self.around_mm - self.from_mm) / TURN


@dataclass(frozen=True)
class Plan:
    """A core, what sounds in it, the wraps in order, and what the whole weighs."""

    wanted_mm: float
    core: Core
    core_mm: float  # round
    core_grams: Range
    core_ml: float | None  # loose, for what is measured in cups
    stops: tuple[Stop, ...]
    noise: Noise | None = None
    dip_mm: float = DIP_MM

    @property
    def grams(self) -> Range:
        """Weight of the base."""
        sounds = () if self.noise is None else (self.noise.grams,)
        parts = [self.core_grams, *sounds, *(stop.grams for stop in self.stops)]
        return Range(*(sum(part[k] for part in parts) for k in range(3)))


def winding(
    wanted_mm: float, parts: Parts | None = None, densities: Mapping[str, Range] | None = None, dip_mm: float = DIP_MM
) -> Plan:
    """A plan for a ball ``wanted_mm`` round; ``densities`` (g/cm³) are her own where she has measured.

    ``dip_mm`` is how deep the needle goes under a bite: the last wrap lies at least so deep, or what is held tears
    loose yarn.  ``DesignError`` for a core that leaves no room for the wraps, or for what shall sound in it.
    """
    parts = parts or made_of()
    packed = densities_with(densities)
    outside = [had.material for had in parts.wraps]
    least = _least(outside, dip_mm)
    core_mm = parts.core_mm
    if core_mm is None:  # many wraps need more than usual
        core_mm = wanted_mm - TURN * max(ADDED_MM / 2, SPARE * sum(least))
    room = (wanted_mm - core_mm) / TURN
    _refuse_tight(wanted_mm, core_mm, sum(least))
    refuse_loud(parts.noise, core_mm)
    stops, at = list[Stop](), core_mm
    for had, depth in zip(parts.wraps, _depths(outside, least, room), strict=True):
        stops.append(_stop(had, packed[had.material.name], at, at + TURN * depth))
        at += TURN * depth
    volume = core_cm3(parts, core_mm)
    loose = None if parts.core.loose is None else volume * parts.core.loose
    weight = packed[parts.core.name].times(volume)
    return Plan(wanted_mm, parts.core, core_mm, weight, loose, tuple(stops), parts.noise, dip_mm)


def densities_with(own: Mapping[str, Range] | None) -> dict[str, Range]:
    """How densely everything packs, her own figures before the estimates."""
    packed = {name: core.density for name, core in CORES.items()}
    return packed | {name: wrap.density for name, wrap in WRAPS.items()} | dict(own or {})


def capsule_mm(noise: Noise) -> float:
    """Diameter of a round capsule that holds what sounds."""
    return 2 * (3 * noise.capsule_ml * 1000 / (4 * math.pi)) ** (1 / 3)


def core_cm3(parts: Parts, core_mm: float) -> float:
    """What the core's own stuff fills."""
    return ball_cm3(core_mm) - (0.0 if parts.noise is None else parts.noise.capsule_ml)


def refuse_loud(noise: Noise | None, core_mm: float) -> None:
    """``DesignError`` where what sounds needs more than half of the core's way through."""
    if noise is not None and capsule_mm(noise) > core_mm / math.pi / 2:
        least = 2 * math.pi * capsule_mm(noise)
        raise DesignError(
            "noise",
            f"{noise.title} needs a capsule {capsule_mm(noise):.0f} mm across, more than half of a core "
            f"{core_mm:.0f} mm round; take a core of at least {math.ceil(least)} mm round, or leave it out",
        )


def _refuse_tight(wanted_mm: float, core_mm: float, least: float) -> None:
    room = (wanted_mm - core_mm) / TURN
    if wanted_mm <= TURN * least:
        what = f"a ball {wanted_mm:.0f} mm round has no room for wraps that need {least:.1f} mm"
        raise DesignError("wraps", f"{what}; take fewer wraps, or a larger ball")
    if core_mm <= 0 or room < least - 1e-9:
        left = f"{room:.1f} mm" if room > 0 else "nothing"
        what = f"a core {core_mm:.0f} mm round leaves {left} for wraps that need {least:.1f} mm"
        if core_mm <= 0:
            what = f"wraps of the usual depth leave no core in a ball {wanted_mm:.0f} mm round"
        most = f"a core of at most {max(wanted_mm - TURN * least, 0):.0f} mm round"
        raise DesignError("core", f"{what}; take {most}, fewer wraps, or a larger ball")


def _least(wraps: Sequence[Material], dip_mm: float) -> list[float]:
    """What each wrap needs at least; the last one holds the stitches."""
    return [*(item.least_mm for item in wraps[:-1]), *(max(item.least_mm, dip_mm) for item in wraps[-1:])]


def _depths(wraps: Sequence[Material], least: Sequence[float], room: float) -> list[float]:
    """Each wrap's thickness in mm: what it needs, and its share of the rest; the last has what it needs and no more."""
    shares = [item.share for item in wraps[:-1]]
    if not shares:
        return [room] * len(wraps)
    rest = (room - sum(least)) / sum(shares)
    return [*(mm + rest * share for mm, share in zip(least, shares, strict=False)), least[-1]]


def _stop(had: Had, density: Range, before_mm: float, after_mm: float) -> Stop:
    grams = density.times(shell_cm3(before_mm, after_mm))
    tex = had.material.tex
    return Stop(had.material, before_mm, after_mm, grams, None if tex is None else grams.times(1000 / tex), had.grams)


def ball_cm3(around_mm: float) -> float:
    """Volume of a ball by its circumference."""
    return 4 / 3 * math.pi * (around_mm / TURN / 10) ** 3


def around_of(cm3: float) -> float:
    """Circumference (mm) of a ball by its volume: the way back."""
    return TURN * 10 * (3 * cm3 / (4 * math.pi)) ** (1 / 3)


def shell_cm3(before_mm: float, after_mm: float) -> float:
    """Volume between two circumferences."""
    return ball_cm3(after_mm) - ball_cm3(before_mm)
