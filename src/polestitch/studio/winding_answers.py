"""Answers about the base: plan, sheet and roundness.  Those that stitch the ball run in a worker.

In: a document's text and what she said of materials and readings.  Out: plain data, or a PDF.
"""

import re
from collections.abc import Mapping, Sequence
from typing import Any

from polestitch.ball.measured import roundness
from polestitch.document.codec import read
from polestitch.document.design import BallSpec, Design, Measured
from polestitch.document.lengths import Length
from polestitch.errors import DesignError
from polestitch.winding import CORES, NOISES, Had, Learned, Parts, Plan, outcome, winding
from polestitch.winding.parts import LARGEST_CORE_MM, SMALLEST_CORE_MM, had, known
from polestitch.winding.plan import DIP_MM
from polestitch.winding.told import outcome_json, winding_json

Known = Mapping[str, Learned]
_AMOUNT = re.compile(r"(?P<number>\d+(?:[.,]\d+)?)\s*(?P<unit>[a-z]+)")


def winding_answer(text: str, said: Mapping[str, Any], learned: Known) -> dict[str, Any]:
    """The plan for the document's ball, or what comes of what she has."""
    design, parts = read(text), parts_said(said)
    if said["to_size"]:
        return winding_json(_plan(design, parts, learned), learned)
    return outcome_json(outcome(parts, _densities(learned)), learned, _dip_mm(design))


def sheet_answer(text: str, said: Mapping[str, Any], learned: Known, paper: str) -> bytes:
    """The winding sheet as PDF; of what she has, for the size that most likely comes of it."""
    from polestitch.sheets.winding_sheet import winding_sheet

    design, parts = read(text), parts_said(said)
    if said["to_size"]:
        return winding_sheet(_plan(design, parts, learned), paper)
    return winding_sheet(outcome(parts, _densities(learned)).plan(_dip_mm(design)), paper)


def round_answer(text: str, readings: Mapping[str, Sequence[str]], off_by: str, learned: Known) -> dict[str, Any]:
    """How round the ball is, and whether the design bears it; a design that cannot be made counts on nothing."""
    from polestitch.checks.gaps import gaps
    from polestitch.studio.shown import shown
    from polestitch.winding.round_told import roundness_json
    from polestitch.winding.roundness import shape

    design = read(text)
    given = {name: _lengths(each, name) for name, each in readings.items()}
    ball = BallSpec(around=design.ball.around, measured=Measured(**given), colour=design.ball.colour)
    found = shape(roundness(ball), _off_by_mm(off_by))
    build = shown(text).build
    free = [] if build is None else [(gap.layer, gap.place, gap.mm) for gap in gaps(build)]
    return roundness_json(found, free, _densities(learned))


def parts_said(said: Mapping[str, Any]) -> Parts:
    """Core, wraps and what sounds, as her form says them; ``DesignError`` names the field."""
    wraps = tuple(_had(wrap, f"wraps[{k}]") for k, wrap in enumerate(said["wraps"]))
    noise = known(said["noise"], NOISES, "noise") if said["noise"] else None
    return Parts(known(said["core"], CORES, "core"), wraps, _core_mm(said["core_around"]), noise)


def _had(wrap: Mapping[str, str], where: str) -> Had:
    if not wrap["amount"].strip():
        return had(wrap["name"], None, "", where)
    found = _AMOUNT.fullmatch(wrap["amount"].strip().lower())
    if found is None:
        raise DesignError(f"{where}.amount", f'"{wrap["amount"]}" is no amount; write it like 40 g or 120 m')
    return had(wrap["name"], float(found["number"].replace(",", ".")), found["unit"], f"{where}.amount")


def _core_mm(text: str) -> float | None:
    if not text.strip():
        return None
    try:
        mm = Length(text.strip().lower().replace(",", ".")).mm
    except ValueError:
        mm = None
    if mm is None or not SMALLEST_CORE_MM <= mm <= LARGEST_CORE_MM:
        raise DesignError("core_around", f'"{text}" is not the way round a core; write it like 180 mm or 18 cm')
    return mm


def _plan(design: Design, parts: Parts, learned: Known) -> Plan:
    planned = roundness(design.ball).planned_mm
    return winding(planned, parts, _densities(learned), _dip_mm(design))


def _dip_mm(design: Design) -> float:
    dip = design.maker.dip.mm
    return DIP_MM if dip is None else dip


def _densities(learned: Known) -> dict[str, Any]:
    return {name: each.density for name, each in learned.items()}


def _lengths(texts: Sequence[str], where: str) -> tuple[Length, ...]:
    found = []
    for n, text in enumerate(texts):
        try:
            found.append(Length(text.strip().replace(",", ".")))
        except ValueError:
            what = f'"{text}" is no circumference; write it like 247 mm or 24.7 cm'
            raise DesignError(f"{where}[{n}]", what) from None
    return tuple(found)


def _off_by_mm(text: str) -> float:
    (length,) = _lengths([text], "off_by")
    mm = length.mm
    if mm is None or not 0.05 <= mm <= 20:
        raise DesignError("off_by", f'"{text}" is not how far off a reading can be; write 0.05 mm to 20 mm')
    return mm
