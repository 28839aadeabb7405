"""From a class and its design to everything worked out: a ball planned anew for every student's own measure.

In: a ``ClassSpec`` and a design as plain data.  Out: ``Lesson``.

It stands here, above fitting and chair, because a class needs both.
"""

import json
from collections.abc import Callable
from dataclasses import fields
from typing import Any

from polestitch.chair.plan import plan
from polestitch.document.codec import read
from polestitch.document.limits import around_mm
from polestitch.errors import DesignError
from polestitch.fitting import replanned
from polestitch.pipeline import build
from polestitch.teaching.demonstration import HandStep, demonstration
from polestitch.teaching.document import ClassSpec, said_name
from polestitch.teaching.lesson import Balls, Lesson
from polestitch.teaching.stages import stages
from polestitch.teaching.timeline import timeline
from polestitch.teaching.verdict import Smaller
from polestitch.workup import WorkUp, workup

Document = dict[str, Any]
Say = Callable[[float, str], None]
SMALLER = 0.8  # of the circumference: a ball that takes about two thirds of the thread
SAME_MM = 0.05


def _silent(_share: float, _words: str) -> None:
    """Nobody listens."""


def lesson_of(spec: ClassSpec, document: Document, say: Say = _silent) -> Lesson:
    """The class worked out; ``DesignError`` names the student whose ball cannot be made, or the design's place."""
    say(0.05, "Stitching the planned ball")
    planned = worked(document)
    left = worked(_for_hand(document, "left")) if spec.left_handed else None
    of_seats, changes = _seats(spec, document, planned, say)
    say(0.9, "Choosing what to show")
    moments = demonstration(hand_steps(planned), _layers(planned), marking=not spec.prepared.marking)
    return Lesson(spec, Balls(planned, left, of_seats, changes), moments, _smaller(spec, document, planned))


def worked(document: Document) -> WorkUp:
    """A design as plain data, built and worked out."""
    return workup(build(read(json.dumps(document))))


def hand_steps(work: WorkUp) -> tuple[HandStep, ...]:
    """Every movement of the hand, as far as a demonstration reads it."""
    names = [field.name for field in fields(HandStep)]
    return tuple(HandStep(**{name: getattr(step, name) for name in names}) for step in plan(work).steps)


def _layers(work: WorkUp) -> list[tuple[str, str]]:
    return [(layer.name, layer.technique) for layer in work.build.design.layers]


def _for_hand(document: Document, hand: str) -> Document:
    return {**document, "maker": {**document.get("maker", {}), "hand": hand}}


def _seats(
    spec: ClassSpec, document: Document, planned: WorkUp, say: Say
) -> tuple[tuple[WorkUp, ...], tuple[tuple[str, ...], ...]]:
    """A ball a seat; every size is made once."""
    known: dict[float, tuple[WorkUp, tuple[str, ...]]] = {round(planned.build.ball.around_mm, 2): (planned, ())}
    found = []
    for k, student in enumerate(spec.seats):
        given = student.around
        mm = planned.build.ball.around_mm if given is None else around_mm(str(given), f"named[{k}].around")
        key = round(mm, 2)
        if key not in known:
            say(0.1 + 0.75 * k / spec.students, f"Planning the ball of {said_name(student, k + 1)}")
            known[key] = _other_size(document, mm, f"named[{k}].around")
        found.append(known[key])
    return tuple(work for work, _ in found), tuple(changes for _, changes in found)


def _other_size(document: Document, mm: float, where: str) -> tuple[WorkUp, tuple[str, ...]]:
    try:
        made = replanned(document, mm)
        return worked(made.document), made.changes
    except DesignError as error:
        what = f"{mm:g} mm: the design cannot be made on this ball ({error}); give another ball or another design"
        raise DesignError(where, what) from None


def _smaller(spec: ClassSpec, document: Document, planned: WorkUp) -> Smaller | None:
    """A ball four fifths as large round, where the class does not come to its end on the planned one."""
    if timeline(spec, stages(planned, spec.pace)).reach["likely"].done:
        return None
    mm = float(round(planned.build.ball.around_mm * SMALLER))
    try:
        work, _ = _other_size(document, mm, "around")
    except DesignError:
        return None
    return Smaller(mm, stages(work, spec.pace))
