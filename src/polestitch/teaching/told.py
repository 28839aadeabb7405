"""A class as plain data: what ``class --json`` prints and the studio shows.

In: ``Lesson``.  Out: a dict of numbers, words and lists.  Lengths are in mm, times in minutes.
"""

from collections.abc import Iterator
from dataclasses import asdict
from typing import Any

from polestitch.document.said import near_length
from polestitch.estimate.hours import PRACTICE, Assumption
from polestitch.steps.ball import CAUTIONS
from polestitch.teaching.cutting import Bundle
from polestitch.teaching.lesson import Lesson
from polestitch.teaching.minutes import Minutes
from polestitch.teaching.stages import FINISHING, Stage, stages


def class_json(lesson: Lesson) -> dict[str, Any]:
    """Every figure of one class."""
    spec, found = lesson.spec, lesson.timeline
    design = lesson.balls.planned.build.design
    return {
        "title": spec.title,
        "design": design.name,
        "around_mm": round(lesson.balls.planned.build.ball.around_mm, 2),
        "students": spec.students,
        "left_handed": spec.left_handed,
        "spares": spec.spare_kits,
        "minutes": {"available": round(spec.available, 1), "needed": _range(found.needed)},
        "verdict": lesson.verdict,
        "reach": {hand: {"after": r.after, "left": round(r.left, 1)} for hand, r in found.reach.items()},
        "remedies": [
            {"what": one.what, "left": round(one.left, 1), "sentence": one.sentence} for one in lesson.remedies
        ],
        "stages": [_stage(stage, k < len(found.beforehand)) for k, stage in enumerate(lesson.stages)],
        "sessions": _sessions(lesson),
        "beforehand": _beforehand(lesson),
        "kit": [asdict(line) for line in lesson.kit],
        "seats": [_seat(lesson, k) for k in range(spec.students)],
        "bundles": [_bundle(lesson, one) for one in bundles(lesson)],
        "demonstration": [asdict(moment) for moment in lesson.moments],
        "faults": [asdict(fault) for fault in lesson.faults],
        "cautions": list(CAUTIONS),
        "assumptions": [asdict(one) for one in assumptions(lesson)],
    }


def _range(minutes: Minutes) -> dict[str, float]:
    return {name: round(value, 1) for name, value in minutes._asdict().items()}


def _stage(stage: Stage, prepared: bool) -> dict[str, Any]:
    return {
        "kind": stage.kind,
        "title": stage.title,
        "minutes": _range(stage.minutes),
        "prepared": prepared,
        "ends": [item.after for item in stage.items],
        "layers": list(stage.layers),
    }


def _sessions(lesson: Lesson) -> list[dict[str, Any]]:
    """Bars name stages by their place in ``stages``: what is prepared comes first there."""
    ahead = len(lesson.timeline.beforehand)
    return [
        {
            "title": meeting.title,
            "minutes": meeting.minutes,
            "talk": meeting.talk,
            "bars": [
                {"stage": bar.stage + ahead, "start": round(bar.start, 1), "minutes": round(bar.minutes, 1)}
                for bar in meeting.bars
            ],
            "stop": meeting.stop,
        }
        for meeting in lesson.timeline.meetings
    ]


def _beforehand(lesson: Lesson) -> dict[str, Any]:
    return {
        "balls": lesson.spec.students + lesson.spec.spare_kits,
        "stages": [stage.title for stage in lesson.timeline.beforehand],
        "minutes": _range(prepared_minutes(lesson)),
    }


def prepared_minutes(lesson: Lesson) -> Minutes:
    """What the teacher prepares, at the estimate's own pace, for all students and spares."""
    ready = {stage.kind for stage in lesson.timeline.beforehand}
    balls = [*lesson.balls.of_seats]
    balls += [max(balls, key=lambda work: work.build.ball.around_mm)] * lesson.spec.spare_kits
    known: dict[int, Minutes] = {}
    whole = Minutes(0.0, 0.0, 0.0)
    for work in balls:
        if id(work) not in known:
            mine = [stage.minutes for stage in stages(work, 1.0) if stage.kind in ready]
            known[id(work)] = Minutes(*(sum(each[k] for each in mine) for k in range(3)))
        whole = whole.plus(known[id(work)])
    return whole


def bundles(lesson: Lesson) -> list[tuple[Bundle, tuple[int, ...]]]:
    """Bundles that are cut differently, each with the numbers of the students it is for."""
    found: list[tuple[Bundle, list[int]]] = []
    for seat, one in zip(lesson.seats, lesson.bundles):
        same = next((numbers for bundle, numbers in found if bundle == one), None)
        if same is None:
            found.append((one, [seat.number]))
        else:
            same.append(seat.number)
    return [(one, tuple(numbers)) for one, numbers in found]


def _seat(lesson: Lesson, k: int) -> dict[str, Any]:
    seat = lesson.seats[k]
    return {
        "number": seat.number,
        "name": seat.name,
        "around_mm": round(seat.around_mm, 2),
        "measured": seat.measured,
        "changes": list(seat.changes),
    }


def _bundle(lesson: Lesson, listed: tuple[Bundle, tuple[int, ...]]) -> dict[str, Any]:
    one, numbers = listed
    units = lesson.balls.planned.build.design.maker.units
    return {
        "around_mm": round(one.around_mm, 2),
        "for": list(numbers),
        "threads": [
            {
                "name": cuts.name,
                "colour": cuts.colour,
                "marking": cuts.marking,
                "mm": round(cuts.mm, 1),
                "said": near_length(cuts.mm, units),
                "cuts": [{"mm": cut.mm, "count": cut.count, "said": cut_said(cut.mm, units)} for cut in cuts.cuts],
            }
            for cuts in one.threads
        ],
    }


def cut_said(mm: float, units: str) -> str:
    """A length to cut, as the tape has it."""
    return f"{mm / 25.4:.0f} in" if units == "in" else f"{mm / 10:g} cm"


def assumptions(lesson: Lesson) -> Iterator[Assumption]:
    """Every figure the times rest on, the class's own among them."""
    spec = lesson.spec
    pace = "common practice, no source; set to a novice's 3 to 4 h for a simple ball"
    yield Assumption("a student's pace, beside the estimate's", spec.pace, spec.pace, spec.pace, "times", pace)
    yield Assumption("talk and tidying", spec.talk, spec.talk, spec.talk, "min a session", PRACTICE)
    yield from lesson.balls.planned.estimate.hours.assumptions
    yield FINISHING
