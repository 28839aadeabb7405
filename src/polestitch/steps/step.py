"""One line of the instructions, and the parts of a build that instructions are written from.

In: nothing.  Out: ``Step``, and ``Made``, which a build fulfils.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal, NamedTuple, Protocol

import numpy as np
from numpy.typing import NDArray

from polestitch.ball.ball import Ball
from polestitch.document.design import Design
from polestitch.laying.crossings import Crossings
from polestitch.laying.laid import Laid
from polestitch.marking.marking import Marking
from polestitch.stitching.motifs import Motif

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


class Made(Protocol):
    """What instructions read of a build."""

    @property
    def design(self) -> Design:
        """The document."""

    @property
    def ball(self) -> Ball:
        """The ball it is planned on."""

    @property
    def marking(self) -> Marking:
        """Its marking, support lines too."""

    @property
    def motifs(self) -> tuple[Motif, ...]:
        """Every motif, in document order."""

    @property
    def laid(self) -> Laid:
        """Thread in laying order."""

    @property
    def crossings(self) -> Crossings:
        """Where laid threads cross."""

    @property
    def over(self) -> NDArray[np.bool_]:
        """Whether the later thread of each crossing lies on top."""
