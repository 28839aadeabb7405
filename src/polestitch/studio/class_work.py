"""A class worked out, and its papers.  Runs in a worker.

In: a class's and a design's text.  Out: plain data; ``Takeaway``.
"""

from typing import Any

from polestitch.chair.plan import plan
from polestitch.document.filenames import file_stem
from polestitch.document.jsontext import json_object
from polestitch.document.upgrades import upgraded
from polestitch.lessons import Say, lesson_of
from polestitch.studio.planning import step_told
from polestitch.studio.takeaway import Takeaway
from polestitch.teaching.document import read_class
from polestitch.teaching.lesson import Lesson
from polestitch.workup import WorkUp


def class_answer(class_text: str, design_text: str) -> dict[str, Any]:
    """Every figure, and the steps to show, for each hand that is there; ``DesignError`` where it cannot be made."""
    from polestitch.teaching.told import class_json

    lesson = _lesson(class_text, design_text)
    hands = {"right": lesson.balls.planned}
    if lesson.balls.left is not None:
        hands["left"] = lesson.balls.left
    return {"told": class_json(lesson), "steps": {hand: _shown(lesson, work) for hand, work in hands.items()}}


def _lesson(class_text: str, design_text: str, say: Say = lambda _share, _words: None) -> Lesson:
    return lesson_of(read_class(class_text), upgraded(json_object(design_text, "design")), say)


def _shown(lesson: Lesson, work: WorkUp) -> list[dict[str, Any]]:
    """The hand steps of the demonstration, in its order."""
    steps = plan(work).steps
    colours = {thread.name: str(thread.colour) for thread in work.build.design.threads}
    shown = [steps[moment.step] for moment in lesson.moments if moment.step < len(steps)]
    return [{**step_told(step), "colour": colours.get(step.thread or "")} for step in shown]


def class_paper(class_text: str, design_text: str, kind: str, size: str, say: Say) -> Takeaway:
    """One paper; ``say`` is told how far it is."""
    from polestitch.sheets.lesson.papers import paper

    lesson = _lesson(class_text, design_text, lambda share, words: say(0.8 * share, words))
    say(0.8, "Writing the pages")
    ending, media, data = paper(kind, lesson, size)
    return Takeaway(f"{file_stem(lesson.spec.title)}-{kind}{ending}", media, data)
