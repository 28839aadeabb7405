"""A class as its teacher wrote it: who comes, how long, and what is prepared.

In: JSON text.  Out: ``ClassSpec``, frozen; a ``DesignError`` with the place and the remedy where it cannot be read.
"""

import json
from math import ceil
from typing import Annotated, Any, Literal

from pydantic import Field, ValidationError

from polestitch.document.design import Record
from polestitch.document.jsontext import json_object
from polestitch.document.lengths import Length
from polestitch.document.limits import around_mm
from polestitch.document.sentences import design_error
from polestitch.errors import DesignError

FORMAT: Literal[1] = 1
MOST_STUDENTS = 60
Line = Annotated[str, Field(max_length=200)]
# So slow that a kiku at each pole of an S8 ball with an obi takes three and a half hours, the middle of the 3 to 4 a
# novice needed (gksagenda.blogspot.com/2011/12/my-one-handmade-gift.html); as a figure for a class it is
# common practice, no source.
PACE = 1.75


class Student(Record):
    """One student, as far as she wants to be named, and the ball she has."""

    name: Line = ""
    around: Annotated[Length | None, Field(description="Circumference measured on her ball; none: as planned")] = None


class Session(Record):
    """One meeting."""

    minutes: Annotated[float, Field(ge=10, le=720, description="How long it lasts, breaks left out")]
    title: Annotated[Line, Field(description="What it is called, such as a weekday")] = ""


class Prepared(Record):
    """What stands ready when the students come; the later ones need the earlier ones."""

    base: Annotated[bool, Field(description="The balls are wound")] = False
    pins: Annotated[bool, Field(description="The pins are set")] = False
    marking: Annotated[bool, Field(description="The marking lines are laid and tacked")] = False


class ClassSpec(Record):
    """One class or course in which everybody stitches the same design."""

    format: Literal[1] = FORMAT
    title: Annotated[str, Field(min_length=1, max_length=80)]
    design: Annotated[str | None, Field(max_length=200, description="Its design: a file beside this one, or an id")] = (
        None
    )
    level: Line = ""
    when: Annotated[Line, Field(description="Date or dates, in her words")] = ""
    place: Line = ""
    teacher: Line = ""
    goals: Annotated[str, Field(max_length=2000, description="What the students take home, a line each")] = ""
    students: Annotated[int, Field(ge=1, le=MOST_STUDENTS, description="How many come")] = 8
    named: Annotated[
        tuple[Student, ...], Field(max_length=MOST_STUDENTS, description="Names and balls, as far as they are known")
    ] = ()
    left_handed: Annotated[int, Field(ge=0, le=MOST_STUDENTS, description="How many of them are left-handed")] = 0
    spares: Annotated[
        str, Field(pattern=r"^\s*\d{1,3}\s*%?\s*$", description='Kits more than students: "10 %" or "2"')
    ] = "10 %"
    sessions: Annotated[tuple[Session, ...], Field(min_length=1, max_length=40)] = (Session(minutes=180),)
    prepared: Prepared = Prepared()
    pace: Annotated[
        float, Field(ge=0.5, le=6, description="How many times as long a student takes as the estimate says")
    ] = PACE
    talk: Annotated[
        float,
        Field(ge=0, le=120, description="Minutes a session without stitching: welcome, showing, tidying"),
    ] = 20
    cut_spare: Annotated[
        float, Field(ge=0, le=100, description="Per cent that each piece of thread is cut longer than planned")
    ] = 10
    core: Annotated[
        Literal["hulls", "foam", "soft", "wadding"], Field(description="What stands in the middle of the balls")
    ] = "hulls"
    notes: Annotated[str, Field(max_length=4000, description="For the teacher; printed nowhere")] = ""

    @property
    def spare_kits(self) -> int:
        """Kits more than there are students; a part of one counts as a whole one."""
        number = int(self.spares.strip().rstrip("%"))
        return ceil(self.students * number / 100 - 1e-9) if "%" in self.spares else number

    @property
    def available(self) -> float:
        """Minutes of stitching in all sessions."""
        return sum(max(0.0, session.minutes - self.talk) for session in self.sessions)

    @property
    def seats(self) -> tuple[Student, ...]:
        """A student each, those without a name too."""
        return (*self.named, *(Student() for _ in range(self.students - len(self.named))))


def read_class(text: str | bytes, source: str = "class") -> ClassSpec:
    """The class that ``text`` holds; ``source`` names it in messages about the file itself."""
    raw = json_object(text, source, "class")
    try:
        spec = ClassSpec.model_validate_json(json.dumps(raw), strict=True)
    except ValidationError as error:
        raise design_error(error, ClassSpec) from None
    if len(spec.named) > spec.students:
        raise DesignError("named", f"has {len(spec.named)} names for {spec.students} students; raise students")
    if spec.left_handed > spec.students:
        raise DesignError("left_handed", f"is more than the {spec.students} students; give at most as many")
    for k, student in enumerate(spec.named):
        if student.around is not None:
            around_mm(str(student.around), f"named[{k}].around")
    return spec


def plain(spec: ClassSpec) -> dict[str, Any]:
    """The class as JSON values that read back as the same class."""
    return spec.model_dump(mode="json", exclude_none=True)


def said_name(student: Student, number: int) -> str:
    """How papers call her: her name, or the number of her seat."""
    return student.name.strip() or f"Student {number}"
