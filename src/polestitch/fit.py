"""What limits a row: where a motif reaches a line, a point, a distance or its neighbours.

In: a motif's repeat of rows and a target in the maker's words.  Out: how many rows fit.
Found on the settled thread, never guessed.
"""

from collections.abc import Callable, Sequence
from functools import partial
from math import ceil

import numpy as np
from numpy.typing import NDArray

from polestitch.document.lengths import Length
from polestitch.errors import DesignError
from polestitch.laying.settle import Settled, Strands
from polestitch.marking.address import Place, address
from polestitch.marking.marking import Marking
from polestitch.sphere.arcs import Points, arc_angle, dot, move, toward, unit
from polestitch.stitching.motifs import Repeat
from polestitch.stitching.seats import Seat
from polestitch.stitching.site import alike
from polestitch.stitching.stitches import Row

MOST_ROWS = 512
# A row that ends this close past its target still counts as reaching it (radians: 1e-6 mm on any ball).
REACHED = 1e-9
SAME = 1e-6  # radians: distances nearer than this are one
# Radians left before a row would be over its target; less than none and it is.
Room = Callable[[Row, Callable[[], Settled]], float]


def rows_until(repeat: Repeat, target: str, marking: Marking) -> int:
    """How many entries of the repeated row list fit before ``target`` would be overrun.

    Targets: ``neighbours``, ``edge``, ``obi``, a length ("5 mm from obi"), or an address.
    ``DesignError`` at ``rows`` where not even one row fits, or no row ever gets there.
    """
    if repeat.seat.site.kind == "ball" and repeat.rows(1)[0].turn is not None:
        words = (
            f'"until {target}" means nothing where every thread goes round the whole ball; write how many, as "4 navy"'
        )
        raise DesignError("rows", words)
    room = _neighbours(repeat) if target == "neighbours" else _distance(repeat, target, marking)
    search, count = _Search(room), 8
    while True:
        fits = search.fitting(repeat.rows(count))
        if fits < count:
            break
        if count >= MOST_ROWS:
            raise DesignError("rows", f'"until {target}" is never reached, even after {count} rows')
        count = min(search.more(count), MOST_ROWS)
    if fits < 1:
        raise DesignError("rows", f'"until {target}" leaves no room for a single row; start further away from it')
    return fits


class _Search:
    """Rows asked one after another whether they are allowed; none is laid or asked twice."""

    def __init__(self, room: Room) -> None:
        self._room = room
        self._begin()

    def _begin(self) -> None:
        self._asked: list[Row] = []
        self._left: list[float] = []
        self._strands = Strands()
        self._laid = 0

    def fitting(self, rows: Sequence[Row]) -> int:
        """Entries of the row list whose rows are all allowed, counted up to the first that is not."""
        if not all(_same(one, other) for one, other in zip(self._asked, rows)):
            self._begin()  # more rows change the first ones too
        over = max(row.plan for row in rows) + 1
        for row in rows[len(self._asked) :]:
            self._left.append(self._room(row, partial(self._thread, row)))
            if self._left[-1] < -REACHED:
                over = min(over, row.plan)
            self._asked.append(row)
            if over == 0 or (row.turn is None and row.plan >= over):
                break
        return over

    def more(self, count: int) -> int:
        """How many entries to try after ``count`` that all fit: about as many as the last rows' steps will need."""
        step = self._left[-2] - self._left[-1] if len(self._left) > 1 else 0.0
        needed = ceil(1.1 * self._left[-1] / step) if step > REACHED else count
        return count + min(max(2, needed + 1), 3 * count)

    def _thread(self, row: Row) -> Settled:
        """The row laid beside those before it."""
        for before in self._asked[self._laid :]:
            self._strands.laid(before)
        self._laid = len(self._asked) + 1
        return self._strands.laid(row)


def _same(one: Row, other: Row) -> bool:
    return one.plan == other.plan and one.turn is other.turn is None and np.array_equal(one.places, other.places)


def _distance(repeat: Repeat, target: str, marking: Marking) -> Room:
    limit = target_distance(repeat, target, marking)
    first = repeat.rows(1)[0]
    inward = limit < extent(first, repeat.seat.site.kind) and first.turn is None and repeat.seat.site.kind != "circle"

    way = -1.0 if inward and _steps_inward(first) else 1.0

    def room(row: Row, _thread: Callable[[], Settled]) -> float:
        if way < 0 and not _steps_inward(row):
            return -limit  # stepped over its own middle
        return way * (limit - extent(row, repeat.seat.site.kind))

    return room


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
    """Radians from a motif's middle (a circle's line) to what its rows run until; ``DesignError`` at ``rows``.

    An address is measured at the layer's first place: every like place has its own like target just as far.
    """
    site = repeat.seat.site
    if target in ("obi", "edge") and site.kind != "circle":
        return float(site.reaches.min())
    try:
        length = Length(target)
    except ValueError:
        return _to_like_target(repeat, address(marking, target, site.ball, "rows"))
    if site.kind == "circle":
        return site.width(length, "rows")
    return min(site.distance(length, k, "rows") for k in range(site.ways))


def _to_like_target(repeat: Repeat, target: Place) -> float:
    """How far ``target`` is from the layer's first place; ``DesignError`` where that means nothing at another place."""
    first = repeat.first
    there = _apart(first, target)
    for seat in (repeat.seat, *repeat.others):
        if alike(seat.site, first.site) or abs(_apart(seat, target) - there) < SAME:
            continue
        one, other = (f"{repeat.seat.site.ball.mm(_apart(each, target)):.1f} mm" for each in (first, seat))
        origin = "" if first.site.kind == "circle" else " from centre"
        raise DesignError(
            "rows",
            f'"until {target.name}" means {one} at {first.name} and {other} at {seat.name}, which is another kind of '
            f'place; write "until neighbours" or "until {one}{origin}", or give each kind a layer of its own',
        )
    return there


def _apart(seat: Seat, target: Place) -> float:
    if seat.site.kind == "circle":
        return float(abs(np.arcsin(dot(seat.middle, target.at))))
    return float(arc_angle(seat.middle, target.at))


def _neighbours(repeat: Repeat) -> Room:
    seat = repeat.seat
    if seat.site.kind in ("circle", "ball") or not repeat.others:
        raise DesignError("rows", '"until neighbours" needs other motifs of the same layer beside this one')
    half = repeat.widths

    def room(row: Row, thread: Callable[[], Settled]) -> float:
        return clearance(seat, repeat.others, thread()) - half[row.plan % len(half)] / 2

    return room


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
    """Nine places on every arc of a row, (n, 3)."""
    starts = np.concatenate([chain[:-1] for chain in thread.chains])
    ends = np.concatenate([chain[1:] for chain in thread.chains])
    along = np.linspace(0, 1, 9)[:, None] * arc_angle(starts, ends)
    return move(starts[None], toward(starts, ends)[None], along).reshape(-1, 3)
