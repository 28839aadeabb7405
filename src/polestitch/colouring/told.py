"""Colour plans as plain data: what ``colour-plans --json`` prints.

In: ``Plans`` and the threads asked for.  Out: a dict.  ``docs/json.md`` says what each means.
"""

import math
from collections.abc import Sequence
from typing import Any

from polestitch.ball.ball import Ball
from polestitch.colouring.plans import Plans


def plans_json(found: Plans, threads: Sequence[str], ball: Ball) -> dict[str, Any]:
    """How many plans there are, and the best of them by thread."""
    return {
        "different": found.different,
        "turns": found.turns,
        "proven": found.proven,
        "said": said(found, threads),
        "plans": [
            {
                "apart_mm": round(ball.mm(apart), 3) if apart < math.pi else None,
                "threads": [
                    {
                        "name": name,
                        "where": [spot for spot, colour in zip(found.spots, plan, strict=True) if colour == k],
                    }
                    for k, name in enumerate(threads)
                ],
            }
            for plan, apart in zip(found.plans, found.apart, strict=True)
        ],
    }


def said(found: Plans, threads: Sequence[str]) -> str:
    """The count in words."""
    if found.different is None:
        return f"There are more plans of {len(threads)} threads than can be counted; these are the most spread out."
    plans = "is 1 plan" if found.different == 1 else f"are {found.different:,} plans"
    best = (
        "No plan has like threads farther apart." if found.proven else "There may be better ones: the search was cut."
    )
    return f"There {plans} that differ by more than a turn of the ball. {best}"
