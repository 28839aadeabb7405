"""The demo class, and its ball in several sizes, each built once."""

import json
from functools import cache
from pathlib import Path
from typing import Any

from polestitch.lessons import lesson_of, worked
from polestitch.teaching.document import ClassSpec, read_class
from polestitch.teaching.lesson import Lesson
from polestitch.workup import WorkUp

FOLDER = Path(__file__).parents[2] / "examples" / "harbour-lights"


def star() -> dict[str, Any]:
    """A simple S8 ball: a kiku at each pole, an obi."""
    return dict(json.loads((FOLDER / "mooring-star.json").read_text(encoding="utf-8")))


def spec(**changes: Any) -> ClassSpec:
    """The demo class with changes."""
    raw = json.loads((FOLDER / "class.json").read_text(encoding="utf-8"))
    return read_class(json.dumps({**raw, **changes}))


@cache
def ball(around_mm: float = 250.0) -> WorkUp:
    """The star as written, on a ball of this size."""
    return worked({**star(), "ball": {"around": f"{around_mm:g} mm"}})


@cache
def demo() -> Lesson:
    """The demo class, worked out."""
    return lesson_of(spec(), star())
