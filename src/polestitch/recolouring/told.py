"""Colour plans as plain data and in words: what ``colour-plans --json`` prints.

In: a ``Dozen`` and the ball.  Out: a dict, sentences.  ``docs/json.md`` says what each means.
"""

import math
import re
from collections.abc import Sequence
from typing import Any

from polestitch.ball.ball import Ball
from polestitch.colouring.plans import Plans
from polestitch.colouring.seen import contrast
from polestitch.colouring.seen import said as alike_said
from polestitch.document.design import Thread
from polestitch.document.said import listed
from polestitch.recolouring.dozen import Dozen


def dozen_json(made: Dozen, ball: Ball) -> dict[str, Any]:
    """How many plans there are, and the best of them by thread."""
    found = made.plans
    told = [
        [*alike_said(looks), *grey, *already(made, plan)]
        for looks, grey, plan in zip(made.alike, made.grey, found.plans)
    ]
    notes = [sentence for sentence in told[0] if all(sentence in each for each in told)]
    return {
        "asked": made.wishes.model_dump(mode="json", exclude_none=True),
        "by": made.wishes.by,
        "order": found.order,
        "different": found.different,
        "turns": found.turns,
        "mirrors": found.mirrors,
        "proven": found.proven,
        "said": said(found, len(made.threads)),
        "notes": notes,
        "plans": [
            {**_plan(made, k, ball), "notes": [sentence for sentence in each if sentence not in notes]}
            for k, each in enumerate(told)
        ],
    }


def _plan(made: Dozen, k: int, ball: Ball) -> dict[str, Any]:
    found, worst = made.plans, made.plans.worst[k]
    finite = math.isfinite(worst)
    on_ball = found.order == "apart" and made.wishes.by == "motifs"
    return {
        "name": found.names[k] if found.names else None,
        "apart_mm": round(ball.mm(worst), 3) if on_ball and worst < math.pi else None,
        "least_difference": round(worst, 2) if found.order != "apart" and finite else None,
        "said": worst_said(made, k, ball),
        "threads": [
            _thread(made, thread, [spot for spot, own in zip(found.spots, found.plans[k], strict=True) if own == n])
            for n, thread in enumerate(made.threads)
        ],
    }


def _thread(made: Dozen, thread: Thread, where: list[str]) -> dict[str, Any]:
    return {
        "name": thread.name,
        "colour": str(thread.colour),
        "where": where,
        "said": places_said(where),
        "ground_contrast": round(contrast(str(thread.colour), made.ground), 2),
    }


_NUMBERED = re.compile(r"(triangle|centre|diamond|line|row) (\d+)")


def places_said(where: Sequence[str]) -> str:
    """Places in short: "triangles 1, 3, 10" instead of each by its full name; one after another as they come."""
    runs: list[tuple[str, list[str]]] = []
    for spot in where:
        match = _NUMBERED.fullmatch(spot)
        kind, name = (match[1], match[2]) if match else ("", spot)
        if not runs or runs[-1][0] != kind:
            runs.append((kind, []))
        runs[-1][1].append(name)
    return ", ".join(f"{kind}{'s' if len(names) > 1 else ''} {', '.join(names)}" if kind else ", ".join(names)
                     for kind, names in runs)  # fmt: skip


def already(made: Dozen, plan: Sequence[int]) -> list[str]:
    """A sentence where motifs have a thread of the plan in their other rows already."""
    names = [thread.name for k, thread in enumerate(made.threads) if k in plan and thread.name in made.coloured.staying]
    if not names:
        return []
    are = "is" if len(names) == 1 else "are"
    motif = f"a motif in {names[0]}" if len(names) == 1 else "a motif in one of them"
    return [f"{listed(names)} {are} in other rows of each motif already: {motif} shows fewer stripes."]


def worst_said(made: Dozen, k: int, ball: Ball) -> str:
    """What makes this plan good, in a few words."""
    found, worst = made.plans, made.plans.worst[k]
    if found.order != "apart":
        step = (
            f"neighbours differ by {worst:.0f} (CIEDE2000) or more" if math.isfinite(worst) else "no two threads meet"
        )
        return f"{found.names[k]}; {step}" if found.names else step
    if made.wishes.by != "motifs":
        return f"like threads {worst:.0f} or more apart" if math.isfinite(worst) else "every thread once"
    return f"like threads {ball.mm(worst):.0f} mm apart or more" if worst < math.pi else "like threads opposite or once"


def said(found: Plans, threads: int) -> str:
    """The count in words."""
    if found.order == "graded":
        ways = "1 way" if found.different == 1 else f"{found.different} ways"
        return f"There is {ways} to grade these threads in even runs." if found.different == 1 else (
            f"There are {ways} to grade these threads in even runs."
        )  # fmt: skip
    if found.different is None:
        return (
            f"There are more plans of {threads} threads than can be counted; these are the best found. {_proof(found)}"
        )
    plans = "is 1 plan" if found.different == 1 else f"are {found.different:,} plans"
    if found.turns == 1:
        return f"There {plans}. {_proof(found)}"
    turn = "a turn of the ball or its mirror image" if found.mirrors else "a turn of the ball"
    return f"There {plans} that differ by more than {turn}. {_proof(found)}"


def _proof(found: Plans) -> str:
    if not found.proven:
        return "There may be better ones: the search was cut."
    if found.order == "contrast":
        return "Proven: no plan has neighbours that differ more."
    return "Proven: no plan has like threads farther apart."
