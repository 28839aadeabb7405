"""Shades between two threads, or of one, and which thread she owns is nearest to each.

In: colours, and threads by name and colour.  Out: ``Shade`` records.

Steps are even in OKLab (B. Ottosson, "A perceptual color space for image processing", 2020), which keeps a grade
from blue to white from going through purple; the nearest thread is the one with the least CIEDE2000.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from polestitch.colouring.seen import difference
from polestitch.errors import DesignError

MOST_SHADES = 24
Owned = tuple[str, str, str]  # what it is known by, name, colour
DARKEST, LIGHTEST = 0.25, 0.95  # OKLab lightness: thread is neither ink nor paper; a starting point, no source


@dataclass(frozen=True)
class Shade:
    """One step of a grade."""

    colour: str  # #rrggbb
    nearest: Owned | None
    off: float | None  # CIEDE2000 to the nearest


def grade(one: str, other: str, count: int, owned: Sequence[Owned] = ()) -> tuple[Shade, ...]:
    """``count`` colours from ``one`` to ``other``, both among them, evenly apart in OKLab."""
    from coloraide import Color

    _check(count)
    steps = Color.steps([one, other], steps=count, space="oklab", out_space="srgb")
    return _shades([str(step.fit("srgb").to_string(hex=True)) for step in steps], owned)


def ramp(colour: str, count: int, owned: Sequence[Owned] = ()) -> tuple[Shade, ...]:
    """``count`` shades of ``colour`` from dark to light, hue kept, chroma as far as a screen can show it."""
    from coloraide import Color

    _check(count)
    _, chroma, hue = Color(colour).convert("oklch").coords()
    shown = []
    for k in range(count):
        light = DARKEST + (LIGHTEST - DARKEST) * k / (count - 1)
        shade = Color("oklch", [light, chroma, hue]).fit("srgb", method="oklch-chroma")
        shown.append(str(shade.convert("srgb").clip().to_string(hex=True)))
    return _shades(shown, owned)


def _check(count: int) -> None:
    if not 2 <= count <= MOST_SHADES:
        raise DesignError("count", f"ask for 2 to {MOST_SHADES} shades")


def _shades(colours: Sequence[str], owned: Sequence[Owned]) -> tuple[Shade, ...]:
    return tuple(_shade(colour, owned) for colour in colours)


def _shade(colour: str, owned: Sequence[Owned]) -> Shade:
    if not owned:
        return Shade(colour, None, None)
    near = min(owned, key=lambda thread: (difference(colour, thread[2]), thread[1]))
    return Shade(colour, near, difference(colour, near[2]))


def shades_json(found: Sequence[Shade]) -> list[dict[str, Any]]:
    """Shades as plain data."""
    return [
        {
            "colour": shade.colour,
            "nearest": None if shade.nearest is None else dict(zip(("id", "name", "colour"), shade.nearest)),
            "difference": None if shade.off is None else round(shade.off, 2),
        }
        for shade in found
    ]
