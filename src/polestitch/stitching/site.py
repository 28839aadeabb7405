"""Where a technique works, in a frame of its own: all it may know of the ball.

In: nothing.  Out: ``Site``.  The frame has the motif's middle at +z and guideline 1 of the site toward
+x; guidelines follow counter-clockwise as seen from outside, which is to the right with the middle up.
A left-hander's site is mirrored, so a technique only ever stitches right-handed.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from polestitch.ball.ball import Ball
from polestitch.document.lengths import Length
from polestitch.errors import DesignError
from polestitch.sphere.arcs import Points

_SAME = 1e-6  # radians
Kind = Literal["centre", "arc", "circle", "poles", "ball"]


@dataclass(frozen=True, eq=False)
class Site:
    """A centre with its spokes, an arc (two spokes from its middle), a whole circle, a pair of poles, or the ball.

    ``azimuths`` (w,) radians, ascending from 0; for a circle they are where guidelines cross it.
    ``reaches`` (w,) radians from the middle to the edge along each spoke; for a circle the middle is
    its own pole, so every reach is a quarter.  For a pair of poles the middle is the first, the other
    lies opposite, and every guideline runs from one to the other; its reach is to half way between.
    For the whole ball the frame is the ball's own (mirrored for mirrored work), the guidelines are
    those of N, and ``points`` (3,) are the marked ones by name.  ``numbers`` are the guidelines'
    numbers on the ball.
    """

    kind: Kind
    ball: Ball
    azimuths: NDArray[np.float64]
    reaches: NDArray[np.float64]
    numbers: tuple[int, ...]
    stretch: float  # the maker's step at a narrow tip
    bite: float  # half the width of a plain bite
    points: Mapping[str, Points] = field(default_factory=dict)
    faces: Mapping[str, tuple[str, ...]] = field(default_factory=dict)  # of a multi-face ball: names of the corners
    mirrored: bool = False  # whether the frame mirrors: what is left in it is right on the ball

    @property
    def ways(self) -> int:
        """How many guidelines there are."""
        return len(self.numbers)

    def distance(self, length: Length, spoke: int, where: str) -> float:
        """Radians from the middle to ``length`` along spoke ``spoke`` (an index).

        A length without origin counts from the middle; ``edge`` and ``obi`` count back from the
        spoke's far end.  Raises ``DesignError`` at ``where`` for a place off the guideline.
        """
        reach = float(self.reaches[spoke])
        span = self.ball.angle(length.mm) if length.mm is not None else length.value * reach
        distance = reach - span if length.origin in ("edge", "obi") else span
        if not 0 < distance < 2.9:
            limit = self.ball.mm(reach)
            raise DesignError(where, f'"{length}" lies off the guideline, which is {limit:.1f} mm long from the middle')
        return distance

    def width(self, length: Length, where: str) -> float:
        """Radians of a plain width or height, for which an origin makes no sense."""
        if length.mm is None:
            raise DesignError(where, f'"{length}" must be a length with a unit, such as "6 mm"')
        return self.ball.angle(length.mm)


def alike(one: Site, other: Site) -> bool:
    """Whether two places are of one kind: as many guidelines, and equally long, whichever comes first."""
    if one.ways != other.ways:
        return False
    return bool(np.abs(np.sort(one.reaches) - np.sort(other.reaches)).max(initial=0.0) < _SAME)
