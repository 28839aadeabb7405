"""A class with everything worked out.

In: a class, the built balls of its students.  Out: ``Lesson``, which papers, the command line and the studio read.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

from polestitch.teaching.cutting import Bundle, bundle
from polestitch.teaching.demonstration import Moment
from polestitch.teaching.document import ClassSpec, Student, said_name
from polestitch.teaching.faults import Fault, faults
from polestitch.teaching.kit import KitLine, kit
from polestitch.teaching.stages import Stage, stages
from polestitch.teaching.timeline import Timeline, timeline
from polestitch.teaching.verdict import Remedy, Smaller, remedies, verdict
from polestitch.workup import WorkUp


@dataclass(frozen=True)
class Seat:
    """One student: her number, what papers call her, the ball she has; ``measured`` if it is not as planned."""

    number: int
    name: str
    around_mm: float
    measured: bool
    changes: tuple[str, ...] = ()

    @property
    def named(self) -> bool:
        """Whether she has a name of her own."""
        return self.name != said_name(Student(), self.number)

    @property
    def numbered(self) -> str:
        """Her number with her name, or the number alone."""
        return f"{self.number} {self.name}" if self.named else str(self.number)


@dataclass(frozen=True, eq=False)
class Balls:
    """The planned ball for both hands, and one for every seat; equal balls are the same object."""

    planned: WorkUp
    left: WorkUp | None
    of_seats: tuple[WorkUp, ...]
    changes: tuple[tuple[str, ...], ...]


@dataclass(frozen=True, eq=False)
class Lesson:
    """Everything about one class."""

    spec: ClassSpec
    balls: Balls
    moments: tuple[Moment, ...]
    smaller: Smaller | None = None

    @cached_property
    def seats(self) -> tuple[Seat, ...]:
        """All students in order."""
        planned = self.balls.planned.build.ball.around_mm
        found = []
        for k, (student, work) in enumerate(zip(self.spec.seats, self.balls.of_seats)):
            around = work.build.ball.around_mm
            seat = Seat(k + 1, said_name(student, k + 1), around, abs(around - planned) > 0.05, self.balls.changes[k])
            found.append(seat)
        return tuple(found)

    @cached_property
    def stages(self) -> tuple[Stage, ...]:
        """Stages of the slowest of all balls: the class goes on when she is done."""
        each = {id(work): stages(work, self.spec.pace) for work in self.balls.of_seats}
        return max(each.values(), key=_likely)

    @cached_property
    def timeline(self) -> Timeline:
        """The stages on the sessions."""
        return timeline(self.spec, self.stages)

    @property
    def verdict(self) -> str:
        """Whether it fits."""
        return verdict(self.timeline)

    @cached_property
    def remedies(self) -> tuple[Remedy, ...]:
        """What would make it fit."""
        return remedies(self.spec, self.stages, self.timeline, self.smaller)

    @cached_property
    def bundles(self) -> tuple[Bundle, ...]:
        """Thread of every seat."""
        made = {id(work): bundle(work, self.spec.cut_spare) for work in self.balls.of_seats}
        return tuple(made[id(work)] for work in self.balls.of_seats)

    @cached_property
    def kit(self) -> tuple[KitLine, ...]:
        """Everything to bring."""
        return kit(self.spec, self.balls.of_seats, self.bundles)

    @cached_property
    def faults(self) -> tuple[Fault, ...]:
        """What can go wrong with these techniques."""
        return faults(layer.technique for layer in self.balls.planned.build.design.layers)


def _likely(listed: Sequence[Stage]) -> float:
    return sum(stage.minutes.likely for stage in listed)
