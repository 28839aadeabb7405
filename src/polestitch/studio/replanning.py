"""Going on by another version of a design: what is done stays as it was done.  Runs in a worker.

In: the piece's document, the new version, the state.  Out: the new plan, what changes in words, steps kept.
"""

from itertools import takewhile
from typing import Any

from polestitch.chair.plan import Plan, plan
from polestitch.document.said import near_length
from polestitch.store.designs import document_text
from polestitch.store.pieces import Planned
from polestitch.studio.planning import planned
from polestitch.studio.shown import made
from polestitch.workup import WorkUp, workup


def replanned(old: str, raw: dict[str, Any], revision: int, state: dict[str, Any]) -> tuple[Planned, list[str], int]:
    """The steps at the beginning of both plans that say the same are kept; all after them are new."""
    import json

    text = document_text({**raw, "ball": json.loads(old)["ball"]})  # it stays the ball that she wound
    was, now = workup(made(old)), workup(made(text))
    before, after = plan(was), plan(now)
    same = sum(1 for _ in takewhile(lambda pair: pair[0].say == pair[1].say, zip(before.steps, after.steps)))
    return planned(text, revision), _words(was, now, (before, after), (same, state)), same


def _words(was: WorkUp, now: WorkUp, plans: tuple[Plan, Plan], known: tuple[int, dict[str, Any]]) -> list[str]:
    (before, after), (same, state) = plans, known
    units = now.build.design.maker.units
    lost = sum(max(0, min(end, len(before.steps)) - max(start, same)) for start, end in state["done"])
    if len(before.steps) == len(after.steps) == same:
        return ["Nothing changes: every step stays as it is."]
    words = [f"{same} of {len(before.steps)} steps stay as they are; from step {same + 1} on the plan is new."]
    if lost:
        words.append(
            f"{lost} steps that you have done are different in the new version. What is stitched there does not "
            "match it: unpick back to that step, or keep the old version."
        )
    words += _look(was, now)
    for one, two in zip(was.estimate.threads, now.estimate.threads):
        if one.name == two.name and abs(one.total_mm - two.total_mm) > 1:
            more = "more" if two.total_mm > one.total_mm else "less"
            words.append(f"It takes {near_length(abs(two.total_mm - one.total_mm), units)} {more} of {two.name}.")
    return words


def _look(was: WorkUp, now: WorkUp) -> list[str]:
    """What the finished ball looks like beside the old plan."""
    covers = [round(100 * float(work.build.cover.share)) for work in (was, now)]
    words = [] if covers[0] == covers[1] else [f"The finished ball is {covers[1]} % covered instead of {covers[0]} %."]
    names = [[layer.name for layer in work.build.design.layers] for work in (was, now)]
    words += [f'The layer "{name}" is new.' for name in names[1] if name not in names[0]]
    words += [f'The layer "{name}" is gone.' for name in names[0] if name not in names[1]]
    return words
