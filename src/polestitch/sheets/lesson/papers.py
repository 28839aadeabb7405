"""Every paper of a class by its name.

In: a kind and a ``Lesson``.  Out: a file's ending, its media type and its bytes.
"""

from collections.abc import Callable, Sequence
from typing import Literal

from polestitch.errors import DesignError
from polestitch.sheets.lesson.handout import handout_sections, hands
from polestitch.sheets.lesson.lists import cut_section, kit_section
from polestitch.sheets.lesson.plan_page import plan_sections
from polestitch.sheets.lesson.strips import class_strip_sheets
from polestitch.sheets.pages import Grid, Section, flowed, numbered_sheets
from polestitch.sheets.pdf import pdf
from polestitch.sheets.sheet import Sheet, paper_named
from polestitch.teaching.lesson import Lesson

Kind = Literal["handout", "kit-list", "cut-list", "strips", "lesson-plan"]
KINDS: tuple[Kind, ...] = ("handout", "kit-list", "cut-list", "strips", "lesson-plan")
PDF = "application/pdf"
SECTIONS: dict[str, Callable[[Lesson, Grid], Sequence[Section]]] = {
    "kit-list": lambda lesson, grid: [kit_section(lesson, grid)],
    "cut-list": lambda lesson, grid: [cut_section(lesson, grid)],
    "lesson-plan": plan_sections,
}


def paper(kind: str, lesson: Lesson, size: str = "a4") -> tuple[str, str, bytes]:
    """(ending, media type, bytes); ``DesignError`` for a paper a class does not have."""
    if kind not in KINDS:
        raise DesignError("kind", f'"{kind[:20]}" is no paper of a class; choose from {", ".join(KINDS)}')
    return ".pdf", PDF, pdf(sheets(kind, lesson, size), f"{lesson.spec.title}, {kind}")


def sheets(kind: str, lesson: Lesson, size: str = "a4") -> tuple[Sheet, ...]:
    """The pages of one paper."""
    if kind == "strips":
        division = lesson.balls.planned.build.design.marking.division
        return class_strip_sheets(division, lesson.seats, f"Strips, {lesson.spec.title}", size)
    grid = Grid(paper_named(size))
    if kind == "handout":
        return _handouts(lesson, grid)
    bodies = flowed(SECTIONS[kind](lesson, grid), grid)
    return numbered_sheets(bodies, grid.paper, lesson.spec.title)


def _handouts(lesson: Lesson, grid: Grid) -> tuple[Sheet, ...]:
    """One handout after the other, each with its own page numbers."""
    made: list[Sheet] = []
    for hand, work in hands(lesson):
        bodies = flowed(tuple(handout_sections(lesson, hand, work, grid)), grid)
        titled = [(f"For the {hand} hand" if k == 0 else title, marks) for k, (title, marks) in enumerate(bodies)]
        made += numbered_sheets(titled, grid.paper, f"{lesson.spec.title}, for the {hand} hand")
    return tuple(made)
