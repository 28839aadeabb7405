"""From what she has to the ball that comes of it.

In: a core of known size, wraps with amounts, how densely they pack.  Out: ``Outcome``: a circumference at each stop,
as a range.  Dense winding makes the smaller ball: the low end is everything packed as densely as it may.
"""

from collections.abc import Mapping
from dataclasses import dataclass

from polestitch.errors import DesignError
from polestitch.winding.materials import Material, Range
from polestitch.winding.parts import Parts
from polestitch.winding.plan import (
    DIP_MM,
    TURN,
    Plan,
    Stop,
    around_of,
    ball_cm3,
    core_cm3,
    densities_with,
    refuse_loud,
)


@dataclass(frozen=True)
class Reached:
    """One wrap wound until it is used up."""

    material: Material
    grams: float
    around_mm: Range  # round, after
    thickness_mm: float  # likely


@dataclass(frozen=True)
class Outcome:
    """The ball that comes of it."""

    parts: Parts
    core_mm: float
    core_grams: Range
    reached: tuple[Reached, ...]

    @property
    def around_mm(self) -> Range:
        """Circumference of the finished ball."""
        return self.reached[-1].around_mm

    @property
    def grams(self) -> Range:
        """Its weight."""
        sounds = Range(0, 0, 0) if self.parts.noise is None else self.parts.noise.grams
        wound = sum(each.grams for each in self.reached)
        return Range(*(self.core_grams[k] + sounds[k] + wound for k in range(3)))

    def plan(self, dip_mm: float = DIP_MM) -> Plan:
        """The same ball as a plan: a stop where each wrap is most likely used up."""
        stops, before = list[Stop](), self.core_mm
        for each in self.reached:
            grams, tex = Range(each.grams, each.grams, each.grams), each.material.tex
            metres = None if tex is None else grams.times(1000 / tex)
            stops.append(Stop(each.material, before, each.around_mm.likely, grams, metres, each.grams))
            before = each.around_mm.likely
        noise = self.parts.noise
        return Plan(before, self.parts.core, self.core_mm, self.core_grams, None, tuple(stops), noise, dip_mm)


def outcome(parts: Parts, densities: Mapping[str, Range] | None = None) -> Outcome:
    """The ball; ``DesignError`` where the core's size or a wrap's amount is not told."""
    if parts.core_mm is None:
        raise DesignError(
            "core", f'say how large the core is, such as "{parts.core.name} 180 mm" round, or say a wanted size'
        )
    lacking = next((had.material.name for had in parts.wraps if had.grams is None), None)
    if lacking is not None:
        raise DesignError("core", f'say how much {lacking} there is, such as "{lacking} 40 g", or say a wanted size')
    refuse_loud(parts.noise, parts.core_mm)
    packed, inside = densities_with(densities), ball_cm3(parts.core_mm)
    volume, before = Range(inside, inside, inside), parts.core_mm
    reached = []
    for had in parts.wraps:
        grams, density = had.grams or 0.0, packed[had.material.name]
        added = (grams / density.high, grams / density.likely, grams / density.low)
        volume = Range(*(a + b for a, b in zip(volume, added, strict=True)))
        around = Range(*map(around_of, volume))
        reached.append(Reached(had.material, grams, around, (around.likely - before) / TURN))
        before = around.likely
    weight = packed[parts.core.name].times(core_cm3(parts, parts.core_mm))
    return Outcome(parts, parts.core_mm, weight, tuple(reached))
