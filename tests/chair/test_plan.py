"""A piece as movements of the hand: every bite once, every thread once, in either hand."""

import re
from typing import Any

import numpy as np
import pytest

from polestitch.chair.hand_step import HandStep
from polestitch.chair.plan import plan
from polestitch.document.design import Design
from polestitch.marking.address import address
from polestitch.pipeline import Build, build
from polestitch.sphere.arcs import arc_angle
from polestitch.workup import WorkUp, workup
from tests.builds import BAND, KIKU, SQUARE, document

SWAPPED = {"right": "left", "left": "right"}


def worked(hand: str = "right") -> WorkUp:
    told: dict[str, Any] = document({**KIKU, "where": "N and S"}, SQUARE, BAND)
    told["maker"] = {**told["maker"], "hand": hand}
    return workup(build(Design.model_validate(told)))


@pytest.fixture(scope="module")
def work() -> WorkUp:
    return worked()


@pytest.fixture(scope="module")
def steps(work: WorkUp) -> tuple[HandStep, ...]:
    return plan(work).steps


def stitched(steps: tuple[HandStep, ...]) -> list[HandStep]:
    return [step for step in steps if step.arcs is not None]


def test_every_arc_is_laid_by_one_step_and_in_order(work: WorkUp, steps: tuple[HandStep, ...]) -> None:
    ranges = [step.arcs for step in stitched(steps) if step.arcs]
    laid = [arc for first, end in ranges for arc in range(first, end)]
    assert laid == list(range(len(work.build.laid.arc_row)))


def test_bites_are_as_many_as_the_build_has(work: WorkUp, steps: tuple[HandStep, ...]) -> None:
    """A span ends in a bite or a turn; counted on the stitched rows themselves, motif by motif."""
    made: Build = work.build
    rows = [row for motif in made.motifs for row in motif.rows]
    wanted = sum(len(row.places) if row.turn is None else 1 for row in rows)
    assert sum(bool(step.bite) for step in stitched(steps)) == wanted
    assert sum(step.bite == 0 for step in stitched(steps)) == len(rows)  # coming up, before the first


def test_steps_number_themselves_and_bites_never_pass_their_count(steps: tuple[HandStep, ...]) -> None:
    assert [step.n for step in steps] == list(range(steps[0].n, steps[0].n + len(steps)))
    for step in stitched(steps):
        assert step.bite is not None
        assert step.of_bites is not None
        assert 0 <= step.bite <= step.of_bites
        for part, whole in ((step.row, step.of_rows), (step.lap, step.of_laps)):
            assert part is not None
            assert whole is not None
            assert 1 <= part <= whole


def test_a_wound_thread_goes_on_from_turn_to_turn(steps: tuple[HandStep, ...]) -> None:
    """No maker runs the needle in anew for each turn of a band, only where the thread changes."""
    turns = [step for step in stitched(steps) if step.layer == 2 and step.bite == 0]
    begun = [step.thread for step in turns if "Thread the needle" in step.say]
    assert begun.count("navy") + begun.count("white") == len(begun)
    assert all("straight on to turn" in step.say for step in turns if step.join is None)
    assert len(begun) == sum(step.join == "begin" for step in turns)


def test_thread_used_is_thread_estimated(work: WorkUp, steps: tuple[HandStep, ...]) -> None:
    for k, amount in enumerate(work.estimate.threads):
        used = sum(step.uses for step in steps if step.thread_index == k)
        assert used == pytest.approx(amount.total_mm, rel=1e-6)


def test_the_place_shown_is_as_far_as_the_words_say(work: WorkUp, steps: tuple[HandStep, ...]) -> None:
    """The distance told against the angle on the ball from where it is told to be measured."""
    made, checked = work.build, 0
    for step in stitched(steps):
        if step.mm is None or step.origin is None or step.xyz is None:
            continue
        start = address(made.marking, step.origin, made.ball).at
        assert made.ball.mm(float(arc_angle(start, np.array(step.xyz)))) == pytest.approx(step.mm, abs=0.06)
        checked += 1
    assert checked > 50


def test_a_left_hander_reads_the_mirror_image(steps: tuple[HandStep, ...]) -> None:
    other = plan(worked("left")).steps
    assert len(other) == len(steps)
    compared = 0
    for mine, theirs in zip(stitched(steps), stitched(other), strict=True):
        sides = re.findall(r"\b(right|left)\b", mine.say)
        assert re.findall(r"\b(right|left)\b", theirs.say) == [SWAPPED[side] for side in sides]
        assert (mine.row, mine.bite, mine.mm) == (theirs.row, theirs.bite, theirs.mm)
        compared += bool(sides)
    assert compared > 20
