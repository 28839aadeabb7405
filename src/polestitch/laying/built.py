"""What products read of a build: its stages, whoever made them.

In: nothing.  Out: ``Built``, and ``Stitched`` with the motifs too; the pipeline's build fulfils both.
"""

from typing import Protocol

import numpy as np
from numpy.typing import NDArray

from polestitch.ball.ball import Ball
from polestitch.document.design import Design
from polestitch.laying.crossings import Crossings
from polestitch.laying.laid import Laid
from polestitch.marking.marking import Marking
from polestitch.stitching.motifs import Motif


class Built(Protocol):
    """The stages of a build that can be seen."""

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
    def laid(self) -> Laid:
        """Thread in laying order."""

    @property
    def crossings(self) -> Crossings:
        """Where laid threads cross."""

    @property
    def over(self) -> NDArray[np.bool_]:
        """(k,) whether the later thread of each crossing lies on top."""


class Stitched(Built, Protocol):
    """A build with what was stitched where."""

    @property
    def motifs(self) -> tuple[Motif, ...]:
        """Every motif, in document order."""
