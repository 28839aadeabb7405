"""The marking: named points, guidelines and how to look them up.

In: nothing (``divisions.py`` makes one).  Out: frozen records; arrays are unit vectors, read-only.

Axes: N is +z, line 1 leaves N toward +x, and lines are numbered to the right as seen with N up,
that is counter-clockwise as seen from outside above N.  Round any other point the guidelines are
numbered the same way, starting from the one that heads for N (or, where points of a kind send
different legs that way, from the next to the right that is like the others' line 1); round S a
line of a simple division keeps its N number.
"""

from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from polestitch.sphere.arcs import Points


@dataclass(frozen=True, eq=False)
class Point:
    """A named crossing of guidelines; ``ways`` half-lines meet here."""

    name: str  # "N", "S", "obi 3", "centre 4", "triangle 7", "diamond 12"
    kind: str  # "centre" (N and S too), "triangle", "diamond", "obi", "face", "corner", "middle"
    ways: int
    at: Points  # (3,)


@dataclass(frozen=True, eq=False)
class Guideline:
    """A marked arc: starts at ``start`` and runs ``sweep`` radians right-handedly about ``normal``."""

    name: str  # "line 1" (half circle N to S), "line 1-5" (whole circle), "obi", "circle 7", or a support line's name
    normal: Points  # (3,)
    start: Points  # (3,)
    sweep: float  # pi or 2 pi for circles; any for support lines and for the sides and legs of faces
    support: bool = False
    offset: float = 0.0  # the plane is normal @ x = offset; not 0 for a ring round a place (its radius has this cosine)


@dataclass(frozen=True, eq=False)
class Spoke:
    """A guideline as seen from one of its points: it leaves in ``direction`` and meets ``end`` after ``reach``."""

    number: int  # 1..ways, to the right as seen with this point up
    name: str  # "line 3" at the poles of a simple division; "line 3 of centre 4" elsewhere
    direction: Points  # (3,) unit tangent
    reach: float  # radians to the first marked point on it (pole to obi for simple divisions, with or without obi)
    end: str  # name of that point ("obi 3")


@dataclass(frozen=True, eq=False)
class Net:
    """The faces of a multi-face marking; rows count in order of ``faces`` and ``corners``."""

    base: str  # the combination it stands on: "C10"
    faces: tuple[Point, ...]
    corners: tuple[Point, ...]
    sides: NDArray[np.intp]  # (e, 2) the two corners each side joins
    parts: NDArray[np.intp]  # (e, 2) the two faces each side parts
    meeting: NDArray[np.intp]  # (corners, 3) the faces that meet at each corner


@dataclass(frozen=True, eq=False)
class Marking:
    """What a division puts on the ball."""

    division: str
    points: tuple[Point, ...]  # crossings only; N first, then by latitude and to the right
    places: tuple[Point, ...]  # further named spots that are no crossings (obi points of a ball without obi)
    guidelines: tuple[Guideline, ...]
    triangles: int  # parts the lines cut the ball into: congruent, but not those of a multi-face division
    spokes: dict[str, tuple[Spoke, ...]]  # by point name, in order of number
    net: Net | None = None  # of a multi-face division
    removed: bool = False  # the whole marking comes out when the stitching is done
    laid: bool = True  # False: pins only, no thread along the guidelines

    @cached_property
    def by_name(self) -> dict[str, Point]:
        """Points and places by name."""
        return {point.name: point for point in (*self.points, *self.places)}

    def of_kind(self, kind: str) -> tuple[Point, ...]:
        """All points of one kind, in order."""
        return tuple(point for point in self.points if point.kind == kind)

    @cached_property
    def by_lower(self) -> dict[str, Point]:
        """Points and places by name without capitals."""
        return {name.lower(): point for name, point in reversed(self.by_name.items())}

    @cached_property
    def xyz(self) -> Points:
        """(n, 3) unit vectors of ``points``."""
        array = np.array([point.at for point in self.points])
        array.setflags(write=False)
        return array
