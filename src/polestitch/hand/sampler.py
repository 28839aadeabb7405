"""The sampler: a few rows of a square and of a point, and the table of what was measured on them.

In: the bytes of a CSV file.  Out: ``Sampled``, which is evidence for her hand; ``DesignError`` names the line.

Heads: ``what`` (square, point, bite, dip or row), ``thread`` (a size), ``rows`` and ``mm``.  The length of a square or
point runs along the guideline from the first row's bite to the last row's.  A row on a ball is told by its layer's name
under ``thread``, its number and how far its tips stand from the middle.  A line without a length is not measured yet.
A flat square's bite steps 1.41 pitches: its legs stand at 45 degrees to the guideline.
"""

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import NamedTuple

from polestitch.document.design import Measures, Thread
from polestitch.document.tabletext import Cells, table_lines
from polestitch.document.threads import pitch_mm
from polestitch.errors import DesignError
from polestitch.hand.hand import PUBLISHED, Hand
from polestitch.hand.learning import Evidence, averaged, learned, measures_of

SQUARE_STEP = math.sqrt(2)
ERROR_MM = 0.3  # of one reading with a ruler: common practice, no source
FEWEST_ROWS, MOST_ROWS, LONGEST_MM = 2, 40, 300.0
KINDS = ("square", "point", "bite", "dip", "row")
HEADS = ("what", "thread", "rows", "mm")
NEEDED = f"the first line names the columns: {', '.join(HEADS)}"


class Standing(NamedTuple):
    """A ball of hers: evidence of a row (layer, row, mm, the line it is written in), and its threads' gauges, mm."""

    row: Callable[[str, int, float, str], Evidence]
    gauges: Mapping[str, float]


@dataclass(frozen=True)
class Measured:
    """One line of the table; ``steps`` from row to row, 0 for a bite or a dip."""

    what: str
    thread: str  # of a row: the name of its layer
    steps: int
    mm: float
    where: str = ""


@dataclass(frozen=True)
class Sampled:
    """What the readings say: her hand, and the pitch the gauge gives each thread they tell of."""

    readings: tuple[Measured, ...]
    hand: Hand
    gauges: dict[str, float]

    @property
    def measures(self) -> Measures:
        """What to put into a design."""
        kinds = {one.what for one in self.readings}
        measured = frozenset("step" if kind in ("point", "row") else kind for kind in kinds)
        return measures_of(self.hand, self.gauges, measured)


def sampled(content: bytes, name: str, known: Hand = PUBLISHED, standing: Standing | None = None) -> Sampled:
    """The hand that the table called ``name`` tells of, on top of what is known; its rows stand on ``standing``."""
    readings = readings_of(content, name)
    squares = {one.thread: _gauge(one.thread, name) for one in readings if one.what == "square"}
    rows = _rows(readings, standing)
    hand = learned(known, [*_squares(readings, squares), *_points(readings), *rows])
    gauges = {**standing.gauges, **squares} if rows and standing is not None else squares
    plain = {kind: [one.mm for one in readings if one.what == kind] for kind in ("bite", "dip")}
    hand = replace(
        hand,
        bite=averaged(known.bite, plain["bite"], ERROR_MM),
        dip=averaged(known.dip, plain["dip"], ERROR_MM),
    )
    return Sampled(readings, hand, gauges)


def readings_of(content: bytes, name: str) -> tuple[Measured, ...]:
    """Every measured line of the table."""
    lines = table_lines(content, name)
    if not lines:
        raise DesignError(name, f"is empty; {NEEDED}")
    head = [" ".join(cell.lower().split()) for cell in lines[0][1]]
    lacking = [word for word in HEADS if word not in head]
    if lacking:
        raise DesignError(f"{name}, line 1", f'has no column called "{lacking[0]}"; {NEEDED}')
    columns = [head.index(word) for word in HEADS]
    told = [(line, [cells[k] if k < len(cells) else "" for k in columns]) for line, cells in lines[1:]]
    found = tuple(_measured(cells, f"{name}, line {line}") for line, cells in told if cells[3])
    if not found:
        raise DesignError(name, 'has nothing measured in it yet; write millimetres under "mm"')
    return found


def _measured(cells: Cells, where: str) -> Measured:
    what, thread, rows, mm = cells
    kind = what.lower()
    if kind not in KINDS:
        raise DesignError(where, f'"{what[:40]}" is nothing a sampler has; write {", ".join(KINDS)}')
    if kind in ("bite", "dip"):
        return Measured(kind, "", 0, _length(mm, where))
    if not rows.isdecimal() or not FEWEST_ROWS <= int(rows) <= MOST_ROWS:
        raise DesignError(where, f'"{rows[:40]}" is no count of rows; write {FEWEST_ROWS} to {MOST_ROWS}')
    if not thread:
        raise DesignError(where, 'names no thread; write its size, such as "pearl 5", or for a row its layer')
    return Measured(kind, thread, int(rows) - 1, _length(mm, where), where)


def _length(text: str, where: str) -> float:
    try:
        mm = float(text.lower().removesuffix("mm").strip().replace(",", "."))
    except ValueError:
        mm = 0.0
    if not 0 < mm <= LONGEST_MM:
        raise DesignError(where, f'"{text[:40]}" is no length on a sampler; write millimetres such as 2.5')
    return mm


def _gauge(thread: str, name: str) -> float:
    """The gauge's pitch of a size; ``DesignError`` at the table for a size nobody published."""
    return pitch_mm(Thread.model_validate({"name": "sampled", "colour": "#000000", "size": thread}), name).mm


def _rows(readings: Sequence[Measured], standing: Standing | None) -> list[Evidence]:
    rows = [one for one in readings if one.what == "row"]
    if rows and standing is None:
        raise DesignError(rows[0].where, "tells of a row, but of no design; name it with --for")
    return [standing.row(one.thread, one.steps + 1, one.mm, one.where) for one in rows if standing is not None]


def _squares(readings: Sequence[Measured], gauges: dict[str, float]) -> list[Evidence]:
    """One piece of evidence for each thread: readings of one piece of work share what that piece did."""
    return [_square(gauge, [one for one in readings if one.thread == thread]) for thread, gauge in gauges.items()]


def _square(gauge: float, readings: Sequence[Measured]) -> Evidence:
    mean, error = _a_step([one for one in readings if one.what == "square"])

    def wanted(factor: float, step: float) -> float:
        return SQUARE_STEP * gauge * factor

    return Evidence(mean, error, wanted)


def _points(readings: Sequence[Measured]) -> list[Evidence]:
    points = [one for one in readings if one.what == "point"]
    if not points:
        return []
    mean, error = _a_step(points)

    def wanted(factor: float, step: float) -> float:
        return step

    return [Evidence(mean, error, wanted)]


def _a_step(readings: Sequence[Measured]) -> tuple[float, float]:
    """Millimetres from row to row, and their usual error: long distances count by their length."""
    steps = sum(one.steps for one in readings)
    return sum(one.mm for one in readings) / steps, ERROR_MM * math.sqrt(len(readings)) / steps
