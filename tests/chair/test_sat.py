"""Which steps were done in which sitting, and what kinds of work they are."""

from itertools import count
from typing import Any

import pytest

from polestitch.chair.kinds import amounts_of
from polestitch.chair.plan import plan
from polestitch.chair.sat import sat
from polestitch.costing.sitting import expected_hours, work_in
from polestitch.workup import workup
from tests.builds import KIKU, built

NUMBERS = count(1)


def event(kind: str, minute: int, device: str = "a", **more: Any) -> dict[str, Any]:
    n = next(NUMBERS)
    at = f"2026-11-30T{9 + minute // 60:02d}:{minute % 60:02d}:00Z"
    return {"id": f"{n:032x}", "device": device, "seq": n, "clock": n, "at": at, "kind": kind, **more}


def test_steps_belong_to_the_sitting_they_were_done_in() -> None:
    told = [
        event("next", 0, step=0),  # before she sat down by the clock
        event("sit", 1, what="start"),
        *(event("next", 1 + k, step=k) for k in range(1, 4)),
        event("sit", 5, what="stop"),
        event("sit", 60, what="start"),
        *(event("next", 60 + k, step=3 + k) for k in range(1, 3)),
        event("sit", 64, what="stop"),
    ]
    first, second = sat(told)
    assert (first.steps, second.steps) == ((1, 2, 3), (4, 5))
    assert first.hours == pytest.approx(4 / 60)
    assert sat([*reversed(told), *told]) == (first, second)  # any order, told twice


def test_her_own_word_for_the_hours_counts() -> None:
    begun = event("sit", 0, what="start")
    told = [begun, event("next", 1, step=0), event("hours", 2, sitting=begun["id"], minutes=45)]
    assert sat(told)[0].hours == 0.75


def test_what_was_jumped_over_counts_for_none_and_what_was_done_twice_for_two() -> None:
    told = [
        event("sit", 0, what="start"),
        event("jump", 1, to=50, between="done"),
        event("next", 2, step=50),
        event("unpick", 3, to=50),
        event("next", 4, step=50),
    ]
    assert sat(told)[0].steps == (50, 50)


def test_a_step_told_again_while_it_is_done_counts_once() -> None:
    told = [event("sit", 0, what="start"), event("next", 1, step=0), event("next", 1, step=0)]
    assert sat(told)[0].steps == (0,)


def test_another_device_s_steps_are_not_mine() -> None:
    told = [event("sit", 0, what="start"), event("next", 1, device="b", step=0)]
    assert sat(told) == ()


def test_a_whole_plan_comes_to_the_estimate_s_own_hours() -> None:
    """Amounts read back from the steps take the hours they were written down with, and the bites are all there."""
    work = workup(built(KIKU))
    steps = plan(work).steps
    amounts = amounts_of(({"part": step.part, "work": step.work}, step.seconds) for step in steps)
    assert 3600 * sum(expected_hours(amounts).values()) == pytest.approx(sum(step.seconds for step in steps))
    counted = work_in(work.estimate.hours)
    assert amounts | {"starts": 0.0} == pytest.approx(counted | {"starts": 0.0})  # words count as shares of a start


def test_a_plan_written_down_before_its_work_was_is_read_by_its_seconds() -> None:
    steps: list[tuple[dict[str, Any], float]] = [
        ({"part": "base"}, 2700.0),
        ({"part": "marking"}, 300.0),
        ({"part": "layer", "bite": 2}, 40.0),
    ]
    assert 3600 * sum(expected_hours(amounts_of(steps)).values()) == pytest.approx(3040)
    assert set(amounts_of(steps)) == {"wrap", "marking", "bites", "laying"}
