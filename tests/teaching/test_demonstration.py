"""What is shown once: the first of each kind, in the order of work, mirrored for the other hand."""

import json
import re
from pathlib import Path

import pytest

from polestitch.chair.plan import plan
from polestitch.lessons import hand_steps, lesson_of, worked
from polestitch.teaching.demonstration import demonstration
from polestitch.teaching.faults import FAULTS, faults
from tests.teaching.balls import demo, spec, star

LAMPS = Path(__file__).parents[2] / "examples" / "quay-lamps.json"


def test_every_layer_has_its_first_bite_and_the_rest_is_shown_once() -> None:
    moments = demo().moments
    assert [one.step for one in moments] == sorted(one.step for one in moments)
    kinds = [one.kind for one in moments]
    assert kinds.count("first bite") == 2
    assert [kinds.count(kind) for kind in ("strip", "tack", "closing", "colour", "join", "end")] == [1] * 6
    turning = next(one for one in moments if one.kind == "turning point")
    assert turning.say != next(one for one in moments if one.kind == "first bite").say


def test_the_numbers_are_the_chairs() -> None:
    steps = plan(demo().balls.planned).steps
    for one in demo().moments:
        assert steps[one.step].say == one.say
    closing = next(one for one in demo().moments if one.kind == "closing")
    assert steps[closing.step].bite == steps[closing.step].of_bites
    shift = next(one for one in demo().moments if one.kind == "next row" and one.layer == 0)
    assert (steps[shift.step].row, steps[shift.step].bite) == (2, 1)


@pytest.mark.slow
def test_left_handed_steps_are_the_same_ones_mirrored() -> None:
    lesson = demo()
    assert lesson.balls.left is not None
    left, right = hand_steps(lesson.balls.left), hand_steps(lesson.balls.planned)
    stitched = [one for one in lesson.moments if one.layer is not None]
    assert stitched
    for one in stitched:
        assert mirrored(left[one.step].say) == right[one.step].say


def mirrored(said: str) -> str:
    """Sides swapped, and the lines of S8 counted the other way round from line 1."""
    swapped = re.sub(r"\b(left|right)\b", lambda found: {"left": "right", "right": "left"}[found[0]], said)
    return re.sub(r"\bline ([2-8])\b", lambda found: f"line {10 - int(found[1])}", swapped)


@pytest.mark.slow
def test_a_technique_worked_twice_is_shown_once_and_going_under_is_shown() -> None:
    document = json.loads(LAMPS.read_text(encoding="utf-8"))
    work = worked(document)
    named = [(layer.name, layer.technique) for layer in work.build.design.layers]
    moments = demonstration(hand_steps(work), named)
    closed = [one.layer for one in moments if one.kind == "closing"]
    assert closed == [0, 3]  # the rust petals close as the amber ones do
    design = star()
    design["layers"][1] = {
        "name": "rope",
        "technique": "uwagake",
        "where": "N",
        "rows": "1 teal",
        "params": {"outer": "1/2 from obi", "inner": "8 mm", "set": 2},
        "under": [{"layer": "star", "rule": "all"}],
    }
    under = demonstration(hand_steps(worked(design)), [("star", "uwagake"), ("rope", "uwagake")], marking=False)
    (crossing,) = [one for one in under if one.kind == "crossing"]
    assert crossing.title == "Going under in rope"
    assert "strip" not in {one.kind for one in under}


def test_prepared_marking_is_not_shown() -> None:
    lesson = lesson_of(spec(prepared={"marking": True}, named=[], left_handed=0), star())
    assert {"strip", "tack"}.isdisjoint(one.kind for one in lesson.moments)


def test_faults_fit_the_techniques_and_name_their_page() -> None:
    assert all("." in fault.source and "/" in fault.source for fault in FAULTS)
    seen = {fault.seen for fault in faults(["band"])}
    assert "The band slips while it is wound" in seen
    assert "A fat, wide flower at the pole" not in seen
    assert "A fat, wide flower at the pole" in {fault.seen for fault in faults(["uwagake"])}
