"""What kinds of work a step of a written plan is, by amounts.

In: steps as plain data and the seconds the plan gave each.  Out: amounts by kind, in the units of ``estimate.hours``.

A plan is written down once, with the work of each step.  In plans written before it was, the amounts are read out of
the seconds: a step with a bite is one bite, a start where it took the seconds of one, and the rest is thread laid; base
and marking are told in metres that would take as long, words in starts.
"""

from collections.abc import Iterable, Mapping
from typing import Any

from polestitch.estimate.hours import PER

Step = Mapping[str, Any]


def amounts_of(steps: Iterable[tuple[Step, float]]) -> dict[str, float]:
    """The work of all these steps together."""
    whole: dict[str, float] = {}
    for step, seconds in steps:
        for kind, amount in step["work"].items() if step.get("work") else _amounts(step, seconds):
            whole[kind] = whole.get(kind, 0.0) + amount
    return whole


def _amounts(step: Step, seconds: float) -> list[tuple[str, float]]:
    if step["part"] in ("base", "marking"):
        kind = "wrap" if step["part"] == "base" else "marking"
        return [(kind, seconds / PER[kind].likely)]
    start, bite = PER["starts"].likely, PER["bites"].likely
    if not step.get("bite") or seconds < bite:
        return [("starts", seconds / start)]
    rest = seconds - bite
    begins = rest >= start
    laid = (rest - start if begins else rest) / PER["laying"].likely
    return [("bites", 1.0), ("laying", laid), *([("starts", 1.0)] if begins else [])]
