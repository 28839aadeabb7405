"""One line of the instructions.

In: nothing.  Out: ``Step``.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal, NamedTuple

Section = Literal["base", "marking", "layer", "finish"]


@dataclass(frozen=True)
class Step:
    """One instruction; numbers count from 1 in each section, and in each layer.

    ``place`` and ``row`` say which motif and row it is about, where it is about one.
    """

    section: Section
    layer: int | None
    number: int
    text: str
    place: str | None = None
    row: int | None = None


class Line(NamedTuple):
    """A step not yet numbered."""

    text: str
    place: str | None = None
    row: int | None = None


def numbered(section: Section, lines: Iterable[Line | str], layer: int | None = None) -> tuple[Step, ...]:
    """``lines`` as steps counted from 1."""
    kept = (Line(line) if isinstance(line, str) else line for line in lines)
    return tuple(Step(section, layer, n, *line) for n, line in enumerate(kept, 1))
