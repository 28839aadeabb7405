"""What a ball is made of from the inside out, as a maker says it.

In: words such as ``"foam 180 mm, bell, thick yarn 40 g, sewing thread 250 m"``.  Out: ``Parts``.
"""

import re
from collections.abc import Mapping
from dataclasses import dataclass
from typing import TypeVar

from polestitch.document.lengths import MM
from polestitch.errors import DesignError
from polestitch.winding.materials import CORES, NOISES, WRAPS, Core, Material, Noise

Kind = TypeVar("Kind", Core, Material, Noise)
USUAL = ("thick yarn", "thin yarn", "sewing thread")
SMALLEST_CORE_MM, LARGEST_CORE_MM = 10.0, 2500.0
MOST_GRAMS = 20_000.0
GRAMS = {"g": 1.0, "kg": 1000.0, "oz": 28.349523125}  # exact: a sixteenth of the pound of 1959
_PART = re.compile(r"(?P<name>[a-z][a-z -]*?)(?:\s+(?P<amount>\d[\d.,]*)\s*(?P<unit>[a-z]+))?")


@dataclass(frozen=True)
class Had:
    """One wrap, and how much of it there is; ``None``: as much as it takes."""

    material: Material
    grams: float | None = None


@dataclass(frozen=True)
class Parts:
    """Core, what sounds in it, and the wraps in order; no ``core_mm``: the core is still to be made."""

    core: Core
    wraps: tuple[Had, ...]
    core_mm: float | None = None  # round
    noise: Noise | None = None


def made_of(
    core: str = "hulls", core_mm: float | None = None, wraps: tuple[str, ...] = USUAL, noise: str | None = None
) -> Parts:
    """Parts by name; ``DesignError`` for one that is not known."""
    if not wraps:
        raise DesignError("wraps", f"are none; take one or more of {', '.join(WRAPS)}")
    had = tuple(Had(known(wrap, WRAPS, "wraps")) for wrap in wraps)
    return Parts(known(core, CORES, "core"), had, core_mm, None if noise is None else known(noise, NOISES, "noise"))


def parts_of(words: str, where: str) -> Parts:
    """Parts as written, core first, commas between; without wraps the usual ones are taken."""
    first, *rest = [_read(each, where) for each in re.split(r";|,(?!\d)", words)]
    core = known(first[0], CORES, where)
    core_mm = None if first[1] is None else _core_mm(first, where)
    sounds = [each for each in rest if each[0] in NOISES]
    if len(sounds) > 1:
        raise DesignError(where, f"names {sounds[0][0]} and {sounds[1][0]}; one thing can sound at the middle")
    wraps = [had(each[0], each[1], each[2], where) for each in rest if each[0] not in NOISES]
    usual = [Had(WRAPS[name]) for name in USUAL]
    return Parts(core, tuple(wraps or usual), core_mm, NOISES[sounds[0][0]] if sounds else None)


def had(name: str, amount: float | None, unit: str, where: str) -> Had:
    """A wrap of which there is so much; ``DesignError`` where that is no weight or length of it."""
    wrap = known(name, WRAPS, where)
    if amount is None:
        return Had(wrap)
    if unit in GRAMS:
        grams = amount * GRAMS[unit]
    elif unit in MM and wrap.tex is not None:
        grams = amount * MM[unit] / 1e6 * wrap.tex
    else:
        lengths = ", or its length in m or yd" if wrap.tex is not None else ""
        raise DesignError(where, f'"{amount:g} {unit}" is no amount of {name}; say its weight in g or oz{lengths}')
    if not 0 < grams <= MOST_GRAMS:
        raise DesignError(where, f'"{amount:g} {unit}" is no amount of {name}; say up to {MOST_GRAMS / 1000:g} kg')
    return Had(wrap, grams)


def known(name: str, among: Mapping[str, Kind], where: str) -> Kind:
    """The one called ``name``; ``DesignError`` names those there are."""
    if name not in among:
        raise DesignError(where, f'"{name[:40]}" is not known here; take one of {", ".join(among)}')
    return among[name]


def _read(words: str, where: str) -> tuple[str, float | None, str]:
    """Name, amount and unit of one part."""
    found = _PART.fullmatch(" ".join(words.lower().split()))
    try:
        amount = None if found is None or found["amount"] is None else float(found["amount"].replace(",", "."))
    except ValueError:
        found = None
    if found is None:
        said = words.strip()[:40]
        raise DesignError(where, f'"{said}" cannot be read; write a material and how much, such as "thick yarn 40 g"')
    return found["name"], amount, found["unit"] or ""


def _core_mm(told: tuple[str, float | None, str], where: str) -> float:
    name, amount, unit = told
    mm = (amount or 0.0) * MM.get(unit, 0.0)
    if not SMALLEST_CORE_MM <= mm <= LARGEST_CORE_MM:
        raise DesignError(where, f'"{amount:g} {unit}" is not the way round a core; write it like "{name} 180 mm"')
    return mm
