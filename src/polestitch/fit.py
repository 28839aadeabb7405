"""What limits a row: where a motif reaches a line, a point, a distance or its neighbours.

In: a motif's repeat of rows and a target in the maker's words.  Out: how many rows fit.
Found on the settled thread, never guessed.
"""

import re
from collections.abc import Callable, Sequence

import numpy as np
from numpy.typing import NDArray

from polestitch.document.lengths import Length
from polestitch.errors import DesignError
from polestitch.laying.settle import Settled, settled
from polestitch.marking.address import address
from polestitch.marking.marking import Marking
from polestitch.sphere.arcs import Points, arc_angle, between, dot, unit
from polestitch.stitching.motifs import Repeat
from polestitch.stitching.seats import Seat
from polestitch.stitching.stitches import Row

MOST_ROWS = 512
# A row that ends this close past its target still counts as reaching it (radians: 1e-6 mm on any ball).
REACHED = 1e-9
Allowed = Callable[[Row, Settled], bool]


def rows_until(repeat: Repeat, target: str, marking: Marking) -> int:
    """How many entries of the repeated row list fit before ``target`` would be overrun.

    Targets: ``neighbours``, ``edge``, ``obi``, a length ("5 mm from obi"), or an address.
    ``DesignError`` at ``rows`` where not even one row fits, or no row ever gets there.
    """
    allowed = _neighbours(repeat) if target == "neighbours" else _distance(repeat, target, marking)
    count = 8
    while True:
        fits = _fitting(repeat.rows(count), allowed)
        if fits < count:
            break
        if count >= MOST_ROWS:
            raise DesignError("rows", f'"until {target}" is never reached, even after {count} rows')
        count *= 2
    if fits < 1:
        raise DesignError("rows", f'"until {target}" leaves no room for a single row; start further away from it')
    return fits


def _fitting(rows: Sequence[Row], allowed: Allowed) -> int:
    """Entries of the row list whose rows are all allowed, counted up to the first that is not."""
    over = [row.plan for row, thread in zip(rows, settled(rows)) if not allowed(row, thread)]
    return min(over, default=max(row.plan for row in rows) + 1)


def _distance(repeat: Repeat, target: str, marking: Marking) -> Allowed:
    limit = target_distance(repeat, target, marking)
    first = repeat.rows(1)[0]
    inward = limit < extent(first, repeat.seat.site.kind) and first.turn is None and repeat.seat.site.kind != "circle"

    def allowed(row: Row, _thread: Settled) -> bool:
        reach = extent(row, repeat.seat.site.kind)
        return reach >= limit - REACHED if inward and _steps_inward(first) else reach <= limit + REACHED

    return allowed


def _steps_inward(row: Row) -> bool:
    return bool(np.all(row.outward[_free(row), 2] > 0)) if row.turn is None else False


def _free(row: Row) -> NDArray[np.bool_]:
    """(k,) the bites that tell how far a row reaches: those that gather nothing, or all where every one gathers."""
    return np.ones_like(row.wide) if row.wide.all() else ~row.wide


def extent(row: Row, kind: str) -> float:
    """How far from its middle (for a circle: from its line) a row reaches, radians.

    Bites that gather earlier legs do not count, unless all do; an inward row is measured at its corners too.
    """
    if row.turn is not None:
        return float(abs(np.arcsin(row.turn.offset)) + row.pitch / 2)
    tips = row.places[_free(row)]
    if kind == "circle":
        return float(np.abs(np.arcsin(tips[:, 2])).max())
    distance = np.arccos(np.clip(np.abs(tips[:, 2]) if kind == "poles" else tips[:, 2], -1, 1))
    return float(distance.min() if _steps_inward(row) else distance.max())


def target_distance(repeat: Repeat, target: str, marking: Marking) -> float:
    """Radians from a motif's middle (a circle's line) to what its rows run until; ``DesignError`` at ``rows``."""
    site = repeat.seat.site
    if site.kind == "circle":
        return _circle_distance(repeat, target, marking)
    try:
        length = Length("0 mm from edge" if target in ("obi", "edge") else target)
    except ValueError:
        at = address(marking, target, site.ball, "rows").at
        return float(arc_angle(repeat.seat.middle, at))
    if re.fullmatch(r"0 mm from edge", length.text):
        return float(site.reaches.min())
    return min(site.distance(length, k, "rows") for k in range(site.ways))


def _circle_distance(repeat: Repeat, target: str, marking: Marking) -> float:
    site = repeat.seat.site
    try:
        return site.width(Length(target), "rows")
    except ValueError:
        at = address(marking, target, site.ball, "rows").at
        return float(abs(np.arcsin(dot(repeat.seat.middle, at))))


def _neighbours(repeat: Repeat) -> Allowed:
    seat = repeat.seat
    if seat.site.kind in ("circle", "ball") or not repeat.others:
        raise DesignError("rows", '"until neighbours" needs other motifs of the same layer beside this one')
    half = repeat.widths

    def allowed(row: Row, thread: Settled) -> bool:
        return clearance(seat, repeat.others, thread) >= half[row.plan % len(half)] / 2 - REACHED

    return allowed


def clearance(seat: Seat, others: Sequence[Seat], thread: Settled) -> float:
    """Least distance (radians, negative beyond) from the thread's centre line to where the neighbours' ground begins.

    The border lies midway: between two centres the plane that bisects them, between two lines where
    a point is as far from one as from the other.
    """
    samples = _samples(thread) @ seat.frame.T
    if seat.site.kind == "arc":
        own = np.arcsin(np.abs(samples @ seat.frame[:, 1]))
        other = np.min([_from_arc(samples, place) for place in others], axis=0)
        return float((other - own).min() / 2)
    planes = unit(np.stack([seat.middle - other.middle for other in others]))
    return float(np.arcsin(np.clip(samples @ planes.T, -1, 1)).min())


def _from_arc(points: Points, seat: Seat) -> Points:
    """(n,) distance from an arc's seat; far for points round the back, where only its circle goes on."""
    ahead = points @ seat.middle > 0
    return np.where(ahead, np.arcsin(np.abs(points @ seat.frame[:, 1])), np.pi)


def _samples(thread: Settled) -> Points:
    shares = np.linspace(0, 1, 9)
    parts = [between(chain[:-1], chain[1:], share) for chain in thread.chains for share in shares]
    return np.concatenate(parts)
