"""A winding plan, or what comes of what she has, as plain data: what ``winding --json`` prints.

In: a ``Plan`` or an ``Outcome``.  Out: a dict of numbers, words and lists, the same keys for both.
``docs/json.md`` says what each means.
"""

from collections.abc import Mapping
from typing import Any

from polestitch.winding.care import bite_said, cautions, noise_said, order_said
from polestitch.winding.have import Outcome, Reached
from polestitch.winding.log import Learned
from polestitch.winding.materials import Core, Noise, Range
from polestitch.winding.plan import DIP_MM, TURN, Plan, Stop, capsule_mm

MEASURE = (
    "Measure round the ball in three directions at each stop, and roll it under your palm before you go on.",
    "The thread presses the yarn together: measure again when it is on, and wind a little more if need be.",
)


def winding_json(plan: Plan, learned: Mapping[str, Learned] | None = None) -> dict[str, Any]:
    """Every figure of the plan; ``learned`` are the materials her own balls speak of."""
    known = learned or {}
    sized = Range(plan.wanted_mm, plan.wanted_mm, plan.wanted_mm)
    return {
        "wanted_mm": round(plan.wanted_mm, 3),
        "around_mm": _range(sized),
        "core": _core(plan.core, plan.core_mm, plan.core_grams, plan.core_ml),
        "noise": _noise(plan.noise, plan.wanted_mm),
        "stops": [_stop(stop, known) for stop in plan.stops],
        "bite": _bite(plan.stops[-1], [stop.thickness_mm for stop in plan.stops], plan.dip_mm),
        "grams": _range(plan.grams),
        "learned": [learned_json(name, each) for name, each in known.items()],
        "said": [*order_said(plan.core, [stop.material for stop in plan.stops]), *MEASURE, _estimates(known)],
        "cautions": list(cautions(plan.wanted_mm, plan.core, plan.noise)),
    }


def outcome_json(made: Outcome, learned: Mapping[str, Learned] | None = None, dip_mm: float = DIP_MM) -> dict[str, Any]:
    """Every figure of the ball that comes of what she has; nothing is wanted there."""
    known = learned or {}
    around = made.around_mm
    order = order_said(made.parts.core, [each.material for each in made.reached])
    about = f"It comes out {around.low:.0f} to {around.high:.0f} mm round, most likely {around.likely:.0f} mm."
    return {
        "wanted_mm": None,
        "around_mm": _range(around),
        "core": _core(made.parts.core, made.core_mm, made.core_grams, None),
        "noise": _noise(made.parts.noise, around.likely),
        "stops": [_reached(each, known) for each in made.reached],
        "bite": _bite(made.reached[-1], [each.thickness_mm for each in made.reached], dip_mm),
        "grams": _range(made.grams),
        "learned": [learned_json(name, each) for name, each in known.items()],
        "said": [about, *order, *MEASURE, _estimates(known)],
        "cautions": list(cautions(around.likely, made.parts.core, made.parts.noise)),
    }


def learned_json(name: str, each: Learned) -> dict[str, Any]:
    """How sure a material is, by her own balls."""
    return {
        "name": name,
        "balls": each.entries,
        "density": {key: round(value, 4) for key, value in each.density._asdict().items()},
        "unsure_percent": round(each.unsure_percent, 1),
        "guess_percent": round(each.guess_percent, 1),
        "said": each.said,
    }


def _estimates(known: Mapping[str, Learned]) -> str:
    return "Densities are estimates" + (f", but for your own of {', '.join(known)}." if known else ".")


def _core(core: Core, around_mm: float, grams: Range, loose_ml: float | None) -> dict[str, Any]:
    loose = "" if loose_ml is None else f" About {10 * round(loose_ml / 10):.0f} ml loose."
    return {
        "name": core.name,
        "title": core.title,
        "around_mm": round(around_mm, 3),
        "grams": _range(grams),
        "loose_ml": None if loose_ml is None else round(loose_ml, 1),
        "said": f"Make the core {around_mm:.0f} mm round.{loose} {core.hint}",
    }


def _noise(noise: Noise | None, around_mm: float) -> dict[str, Any] | None:
    if noise is None:
        return None
    buried = around_mm / TURN - capsule_mm(noise) / 2
    return {
        "name": noise.name,
        "title": noise.title,
        "capsule_mm": round(capsule_mm(noise), 1),
        "grams": _range(noise.grams),
        "buried_mm": round(buried, 1),
        "said": noise_said(noise, buried),
    }


def _stop(stop: Stop, known: Mapping[str, Learned]) -> dict[str, Any]:
    around = Range(stop.around_mm, stop.around_mm, stop.around_mm)
    return {
        **_wrap(stop, stop.around_mm, around, known),
        "grams": _range(stop.grams),
        "metres": None if stop.metres is None else _range(stop.metres),
        "have_grams": stop.had,
        "enough": None if stop.had is None else _enough(stop.had, stop.grams),
    }


def _reached(each: Reached, known: Mapping[str, Learned]) -> dict[str, Any]:
    amount = Range(each.grams, each.grams, each.grams)
    tex = each.material.tex
    return {
        **_wrap(each, each.around_mm.likely, each.around_mm, known),
        "grams": _range(amount),
        "metres": None if tex is None else _range(amount.times(1000 / tex)),
        "have_grams": round(each.grams, 2),
        "enough": "yes",
    }


def _wrap(one: Stop | Reached, likely_mm: float, around: Range, known: Mapping[str, Learned]) -> dict[str, Any]:
    return {
        "name": one.material.name,
        "title": one.material.title,
        "around_mm": round(likely_mm, 3),
        "between_mm": _range(around),
        "thickness_mm": round(one.thickness_mm, 3),
        "hint": one.material.hint,
        "own": one.material.name in known,
    }


def _enough(had: float, grams: Range) -> str:
    return "yes" if had >= grams.high else "perhaps" if had >= grams.low else "no"


def _bite(last: Stop | Reached, depths: list[float], dip_mm: float) -> dict[str, Any]:
    holds, words = bite_said(last.material, last.thickness_mm, dip_mm, sum(depths[:-1]))
    return {"dip_mm": round(dip_mm, 2), "thread_mm": round(last.thickness_mm, 2), "holds": holds, "said": words}


def _range(figure: Range) -> dict[str, float]:
    return {"low": round(figure.low, 2), "likely": round(figure.likely, 2), "high": round(figure.high, 2)}
