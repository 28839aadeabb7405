"""Which steps were done in which sitting.

In: events of a piece.  Out: ``Sat`` records, in the order the sittings began.

A step counts for the sitting of the device that went on from it.  Steps that were only said to be done, by jumping over
them, count for none: nobody knows when they were made.  What was unpicked and done again counts twice, as it took time
twice.
"""

from collections.abc import Iterable
from dataclasses import dataclass

from polestitch.chair.fold import Event, State, after, nothing_done, ordered


@dataclass(frozen=True)
class Sat:
    """One sitting: when it began (ISO 8601), its hours by the clock or by her word, the steps that were done in it."""

    began: str
    hours: float
    steps: tuple[int, ...]


def sat(events: Iterable[Event]) -> tuple[Sat, ...]:
    """Every sitting in which a step was done."""
    state, steps = nothing_done(), dict[str, list[int]]()
    for event in ordered(events):
        before, state = state["done"], after(state, event)
        mine = _sitting(state, event)
        if mine is not None and event.get("kind") == "next" and state["done"] != before:
            steps.setdefault(mine, []).append(state["place"] - 1)
    found = [Sat(one["began"], _hours(one), tuple(steps.get(one["id"], ()))) for one in state["sittings"]]
    return tuple(sorted((one for one in found if one.steps), key=lambda one: one.began))


def _sitting(state: State, event: Event) -> str | None:
    """The sitting that is open on the event's device."""
    return next((str(s["id"]) for s in state["sittings"] if s["open"] and s["device"] == event["device"]), None)


def _hours(sitting: State) -> float:
    """Her own word where she gave one."""
    return float(sitting["seconds"] / 3600 if sitting["minutes"] is None else sitting["minutes"] / 60)
