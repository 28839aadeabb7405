"""A winding plan as plain data: what ``winding --json`` prints.

In: a ``Plan``.  Out: a dict of numbers, words and lists.  ``docs/json.md`` says what each means.
"""

from collections.abc import Sequence
from typing import Any

from polestitch.winding.materials import Range
from polestitch.winding.plan import Plan


def winding_json(plan: Plan, learned: Sequence[str] = ()) -> dict[str, Any]:
    """Every figure of the plan; ``learned`` names the materials her own balls speak of."""
    loose = "" if plan.core_ml is None else f" About {10 * round(plan.core_ml / 10):.0f} ml loose."
    core_said = f"Make the core {plan.core_mm:.0f} mm round.{loose} {plan.core.hint}"
    return {
        "wanted_mm": round(plan.wanted_mm, 3),
        "core": {
            "name": plan.core.name,
            "title": plan.core.title,
            "around_mm": round(plan.core_mm, 3),
            "grams": _range(plan.core_grams),
            "loose_ml": None if plan.core_ml is None else round(plan.core_ml, 1),
            "said": core_said,
        },
        "stops": [
            {
                "name": stop.material.name,
                "title": stop.material.title,
                "around_mm": round(stop.around_mm, 3),
                "thickness_mm": round(stop.thickness_mm, 3),
                "grams": _range(stop.grams),
                "metres": None if stop.metres is None else _range(stop.metres),
                "hint": stop.material.hint,
                "own": stop.material.name in learned,
            }
            for stop in plan.stops
        ],
        "grams": _range(plan.grams),
        "said": [
            "Measure round the ball in three directions at each stop, and roll it under your palm before you go on.",
            "The thread presses the yarn together: measure again when it is on, and wind a little more if need be.",
            "Densities are estimates" + (f", but for your own of {', '.join(learned)}." if learned else "."),
        ],
        "cautions": list(plan.cautions),
    }


def _range(figure: Range) -> dict[str, float]:
    return {"low": round(figure.low, 2), "likely": round(figure.likely, 2), "high": round(figure.high, 2)}
