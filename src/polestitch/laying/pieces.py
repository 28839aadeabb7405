"""Arcs of thread cut for a scan: into pieces that only climb or only fall as the scan looks at them.

In: ``Laid`` and a ``Look``.  Out: ``Bands``.
"""

from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from polestitch.laying.laid import Floats, Laid
from polestitch.sphere.arcs import Points

Indices = NDArray[np.int64]
Flags = NDArray[np.bool_]
_TINY = 1e-12
_NEVER = 9.0  # a latitude beyond any


@dataclass(frozen=True, eq=False)
class Look:
    """Rows of latitude about the axis ``frame[1]``, with longitudes from ``frame[2]`` toward ``frame[0]``.

    Points of a row lie within ``slack`` of its latitude; 0 means exactly on it.  ``front``: no point lies
    behind the plane square to ``frame[2]``, so thread that runs there is passed over.  ``rough``: single
    precision will do for the edges of the thread, as in a picture.
    """

    frame: Points  # (3, 3)
    slack: float = 0.0
    front: bool = False
    rough: bool = False


@dataclass(frozen=True, eq=False)
class End:
    """The first or last ends of a arcs, and the rows of p pieces that may see them."""

    at: Points  # (a, 3)
    ahead: Points  # (a, 3) unit, out of the thread
    below: Floats  # (p,) rows below this latitude
    above: Floats  # (p,) or above this one


@dataclass(frozen=True, eq=False)
class Pieces:
    """Parts of arcs; ``side`` +1 where longitudes are past the circle's axis, -1 before it, 0 a circle along the rows.

    Rows from latitude ``low`` to ``high`` may meet the piece.
    """

    arc: Indices
    side: Floats
    low: Floats
    high: Floats
    first: End
    last: End


@dataclass(frozen=True, eq=False)
class Bands:
    """The arcs in the axes of a look.

    A band meets latitude l at the longitudes ``axis`` +- arccos(edge / cos l - slope tan l), with ``inner``
    and ``outer`` its edges, slack included: n.x over ``tilt``.
    """

    look: Look
    normal: Points
    e1: Points
    e2: Points
    offset: Floats
    radius: Floats
    sweep: Floats
    half: Floats
    inner: Floats
    outer: Floats
    lean: Floats  # arcsine of offset
    axis: Floats  # longitude of the normal
    slope: Floats  # n_y over tilt
    tilt: Floats  # sine of the angle from the rows' axis to the normal
    whole: Flags
    pieces: Pieces = field(init=False)

    def __post_init__(self) -> None:
        """Cut the pieces."""
        object.__setattr__(self, "pieces", _pieces(self))

    @property
    def middle(self) -> Points:
        """(a, 3) from each circle's axis toward the middle of the arc."""
        half = self.sweep[:, None] / 2
        return np.asarray(np.cos(half) * self.e1 + np.sin(half) * self.e2)

    @property
    def flat(self) -> Flags:
        """(a,) circles along the rows."""
        return self.tilt < 1e-9

    def at(self, arc: Indices, t: Floats) -> Points:
        """(k, 3) points at angle ``t`` (k,) of arcs ``arc`` (k,)."""
        flat = np.cos(t)[:, None] * self.e1[arc] + np.sin(t)[:, None] * self.e2[arc]
        return np.asarray(self.offset[arc, None] * self.normal[arc] + self.radius[arc, None] * flat)


def bands_of(laid: Laid, look: Look) -> Bands:
    """The thread of ``laid`` as ``look`` has it."""
    turn = look.frame.T
    normal = laid.normal @ turn
    half = laid.row_pitch[laid.arc_row] / 2
    lean = np.arcsin(laid.offset)
    tilt = np.maximum(np.hypot(normal[:, 0], normal[:, 2]), _TINY)
    kind = np.float32 if look.rough else np.float64
    return Bands(
        look=look,
        normal=normal,
        e1=laid.e1 @ turn,
        e2=laid.e2 @ turn,
        offset=laid.offset,
        radius=laid.radius,
        sweep=laid.sweep,
        half=half,
        inner=(np.sin(lean - half - look.slack) / tilt).astype(kind),
        outer=(np.sin(lean + half + look.slack) / tilt).astype(kind),
        lean=lean,
        axis=np.arctan2(normal[:, 0], normal[:, 2]).astype(kind),
        slope=(normal[:, 1] / tilt).astype(kind),
        tilt=tilt,
        whole=laid.sweep > 2 * np.pi - 1e-9,
    )


def _pieces(bands: Bands) -> Pieces:
    """Arcs, longer by their round ends, cut at their highest and lowest points and at the horizon of a front view."""
    cap = (bands.half + bands.look.slack) / bands.radius
    top = np.arctan2(bands.e2[:, 1], bands.e1[:, 1])
    begin = np.where(bands.whole, top, -cap)
    end = np.where(bands.whole, top + 2 * np.pi, bands.sweep + cap)
    cuts = top[:, None] + np.pi * np.arange(-2, 4)
    if bands.look.front:
        cuts = np.concatenate([cuts, _horizon(bands)], axis=1)
    cuts = np.where(bands.flat[:, None], begin[:, None], cuts)
    table = np.concatenate([begin[:, None], cuts, end[:, None]], axis=1)
    table = np.sort(np.clip(table, begin[:, None], end[:, None]), axis=1)
    arc, column = np.nonzero(np.diff(table, axis=1) > _TINY)
    a, b = table[arc, column], table[arc, column + 1]
    if bands.look.front:
        seen = bands.flat[arc] | (bands.at(arc, (a + b) / 2)[:, 2] > -np.sin(bands.half[arc]))
        arc, a, b = arc[seen], a[seen], b[seen]
    return _placed(bands, arc, (a, b), (begin, end))


def _horizon(bands: Bands) -> Floats:
    """(a, 6) turns where each thread passes out of sight; circles that never do give harmless ones."""
    x, y = bands.e1[:, 2], bands.e2[:, 2]
    level = (-np.sin(bands.half) - bands.offset * bands.normal[:, 2]) / np.maximum(bands.radius * np.hypot(x, y), _TINY)
    swing = np.arccos(np.clip(level, -1, 1))
    middle = np.arctan2(y, x)
    turns = 2 * np.pi * np.arange(-1, 2)
    return np.concatenate([(middle - swing)[:, None] + turns, (middle + swing)[:, None] + turns], axis=1)


def _placed(bands: Bands, arc: Indices, part: tuple[Floats, Floats], reach: tuple[Floats, Floats]) -> Pieces:
    """The pieces from turn ``part[0]`` to ``part[1]``; ``reach`` is where the arcs themselves begin and end."""
    latitudes = [np.arcsin(np.clip(bands.at(arc, t)[:, 1], -1, 1)) for t in part]
    low, high = np.minimum(*latitudes), np.maximum(*latitudes)
    wide = bands.half[arc] + bands.look.slack + 1e-9
    middle, normal = bands.at(arc, (part[0] + part[1]) / 2), bands.normal[arc]
    side = np.where(middle[:, 0] * normal[:, 2] > middle[:, 2] * normal[:, 0], 1.0, -1.0)
    rising = latitudes[0] <= latitudes[1]
    every = np.arange(len(bands.sweep))
    ends = []
    for turn, out, k in ((np.zeros(len(every)), -1.0, 0), (bands.sweep, 1.0, 1)):
        real = (part[k] == reach[k][arc]) & ~bands.whole[arc]
        is_low = rising if k == 0 else ~rising
        # The lengthened end lies at most two half widths from any point that feels the round cap.
        below = np.where(real & is_low, low + 2 * wide, -_NEVER)
        above = np.where(real & ~is_low, high - 2 * wide, _NEVER)
        ahead = out * (np.cos(turn)[:, None] * bands.e2 - np.sin(turn)[:, None] * bands.e1)
        ends.append(End(bands.at(every, turn), ahead, below, above))
    return Pieces(arc, np.where(bands.flat[arc], 0.0, side), low - wide, high + wide, *ends)
