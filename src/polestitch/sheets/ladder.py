"""A ladder of distances: a guideline drawn as a ruler beside the chart, with what lies where on it.

In: names and mm from the middle.  Out: marks; the middle is at y = 0, distances run up.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from polestitch.document.lengths import MM
from polestitch.pipeline import Build
from polestitch.sheets.sheet import BRASS, INK, QUIET, Line, Mark, Path, Pen, Text
from polestitch.sheets.strip_column import spread

PITCH, SIZE = 3.3, 7.5


@dataclass(frozen=True)
class Rung:
    """One place on a guideline."""

    name: str
    mm: float
    colour: str = INK


def ladder(rungs: Sequence[Rung], build: Build, scale: float, height: float) -> tuple[Mark, ...]:
    """Rungs at ``scale``, with their distance and the share of the strip, on a ruler ``height`` mm tall."""
    rungs = sorted(rungs, key=lambda rung: -rung.mm)
    wanted = [-rung.mm * scale for rung in rungs]
    marks: list[Mark] = [Line(0.0, 0.0, 0.0, -height, Pen(BRASS, 0.25))]
    for rung, at, y in zip(rungs, wanted, spread(wanted, 2 * PITCH - 0.2, -height - 2.0, 2.5)):
        marks += [
            Line(-1.0, at, 1.0, at, Pen(rung.colour, 0.25)),
            Path((1.2, at), ((2.2, at), (3.4, y)), Pen(QUIET, 0.12)),
            Text(4.0, y - 0.3, rung.name, "sans bold", SIZE, "start", INK),
            Text(4.0, y - 0.3 + PITCH, _figures(rung.mm, build), "sans", SIZE, "start", QUIET),
        ]
    return tuple(marks)


def _figures(mm: float, build: Build) -> str:
    told = f"{mm / MM['in']:.2f} in" if build.design.maker.units == "in" else f"{mm:.1f} mm"
    return f"{told} · {mm / build.ball.around_mm:.3f} C" if mm else "0"
