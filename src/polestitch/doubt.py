"""How sure a plan is: rows and thread as ranges, by what is known of the maker's hand.

In: a design and how it was drawn.  Out: ``Doubt``: rows of every layer, thread of every colour, skeins with odds.

The design is stitched anew for the likeliest hand and for hands that differ in one respect (pitch, step at points; for
amounts also bite, dip, ends and tension), each as far as four of five go.  What each changes is added as the sides of
right angles are, upward and downward apart: the respects do not depend on each other.  Amounts are the drawn ones times
what the rows' own thread changes.  Layers with counted rows have no doubt about their rows.
"""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from polestitch.checks import Finding
from polestitch.document.design import Design
from polestitch.document.lengths import Length
from polestitch.document.ranges import Range, Z, sure
from polestitch.document.said import in_ten, near_length, near_range
from polestitch.errors import DesignError
from polestitch.estimate import Estimate
from polestitch.estimate.amounts import skein_mm
from polestitch.estimate.handling import handling
from polestitch.estimate.runs import Floats
from polestitch.estimate.stroked import bitten_mm, stroked_mm
from polestitch.hand import hand_of, pitch_of
from polestitch.pipeline import Worked, worked
from polestitch.stitching.motifs import Motif

# How much more or less thread is drawn than lies on the ball, by tension and waste: common practice, no source.
TENSION_SCATTER = 0.05
AT_STRETCH = 1e-6  # radians
TOLD_FROM = 0.05  # rarer luck is not told
MOST_TOLD = 12  # skeins whose odds are told one by one


@dataclass(frozen=True)
class Skeins:
    """How many skeins: the range, and how many to take so that nine hands of ten have enough.

    ``odds[k]`` is the share of hands for whom k + 1 skeins do.
    """

    range: Range
    take: int
    odds: tuple[float, ...]


@dataclass(frozen=True)
class ThreadDoubt:
    """Thread of one colour, mm with everything, and skeins of it where a skein's length is known."""

    total: Range
    skeins: Skeins | None


@dataclass(frozen=True)
class Doubt:
    """Rows by layer and thread by colour, in the design's order."""

    rows: tuple[Range, ...]
    threads: tuple[ThreadDoubt, ...]


@dataclass(frozen=True, eq=False)
class _Told:
    """What one hand makes of the design: rows by layer, and thread by colour as ``stroked_mm`` has it."""

    rows: tuple[int, ...]
    stroked: Floats


Sides = tuple[_Told | None, _Told | None]  # less of one respect, and more


def doubt(design: Design, made: Worked, drawn: Estimate) -> Doubt:
    """Ranges of every count and amount; where the likeliest hand cannot stitch it, the drawn figures stand."""
    base = _with_hand(design)
    likeliest = _worked(base)
    if likeliest is None:
        return _as_drawn(design, made, drawn)
    likely, hands = _told(base, likeliest), list(_hands(design, likeliest))
    rows = [
        spread_of(likely.rows[k], [[told.rows[k] - likely.rows[k] for told in pair if told] for pair in hands])
        for k in range(len(design.layers))
    ]
    laid = _told(design, made).stroked
    scale = np.divide(_without_marking(design, drawn), laid, out=np.zeros_like(laid), where=laid > 0)
    handled = _handled(base, likeliest, drawn)
    threads = []
    for k in range(len(design.threads)):
        mine = scale[k] * likely.stroked[k]
        changes = [[float(scale[k] * told.stroked[k] - mine) for told in pair if told] for pair in hands]
        total = spread_of(float(mine), [*changes, [-handled[k], handled[k]]], TENSION_SCATTER)
        threads.append(_thread(design, k, total, drawn))
    return Doubt(tuple(figure.whole() for figure in rows), tuple(threads))


def rows_of(layers: int, motifs: Sequence[Motif]) -> tuple[int, ...]:
    """Most rows of any motif, layer by layer."""
    most = [0] * layers
    for motif in motifs:
        most[motif.layer] = max([most[motif.layer], *(row.plan + 1 for row in motif.rows)])
    return tuple(most)


def enough(need: Range, mm: float) -> float:
    """The share of hands for whom ``mm`` is enough: logarithms are normal, on either side with its own scatter."""
    if need.likely <= 0:
        return 1.0
    side = need.high if mm > need.likely else need.low
    scatter = abs(math.log(max(side, 1e-9) / need.likely)) / Z
    away = math.log(mm / need.likely)
    return float(away >= 0) if scatter < 1e-9 else 0.5 * math.erfc(-away / scatter / math.sqrt(2))


def _as_drawn(design: Design, made: Worked, drawn: Estimate) -> Doubt:
    rows = tuple(sure(count) for count in rows_of(len(design.layers), made.motifs))
    totals = [spread_of(float(mm), [], TENSION_SCATTER) for mm in _without_marking(design, drawn)]
    return Doubt(rows, tuple(_thread(design, k, total, drawn) for k, total in enumerate(totals)))


def _hands(design: Design, likely: Worked) -> Iterator[Sides]:
    """The design by hands that differ in one respect; in their step only where some point takes it."""
    yield _of(_with_hand(design, pitch=-Z)), _of(_with_hand(design, pitch=Z))
    if any(_stretched(motif) for motif in likely.motifs):
        yield _of(_with_hand(design, step=-Z)), _of(_with_hand(design, step=Z))


def _stretched(motif: Motif) -> bool:
    """Whether some point of it steps by the maker's stretch."""
    stretch = motif.site.stretch
    return any(bool((np.abs(row.step - stretch) < AT_STRETCH).any()) for row in motif.rows)


def _with_hand(design: Design, pitch: float = 0.0, step: float = 0.0) -> Design:
    """The design for a hand so many deviations from the likeliest."""
    maker, hand = design.maker, hand_of(design.maker)
    wide = [pitch_of(thread, maker).at(pitch) for thread in design.threads]
    threads = tuple(thread.model_copy(update={"rows_per_cm": 10 / mm}) for thread, mm in zip(design.threads, wide))
    lengths = {"stretch": hand.step.at(step), "bite": hand.bite.middle, "dip": hand.dip.middle}
    # No measures any more: what they say stands in the threads and in these lengths.
    changed = {**{name: _length(mm) for name, mm in lengths.items()}, "measures": None}
    return design.model_copy(update={"threads": threads, "maker": maker.model_copy(update=changed)})


def _handled(base: Design, likely: Worked, drawn: Estimate) -> Floats:
    """(threads,) what a larger bite, a deeper dip and longer ends add to an amount, mm; none of them moves a row."""
    hand, usual = hand_of(base.maker), handling(base.maker)
    inside = bitten_mm(likely.ball, likely.motifs, usual, len(base.threads))
    # A bite is two legs of a triangle, down to the dip and up again: what both add is little more than in proportion.
    bites = inside * math.hypot(math.expm1(Z * hand.bite.scatter), math.expm1(Z * hand.dip.scatter)) / math.sqrt(2)
    ends = np.array([2 * len(amount.pieces) * (hand.ends.at(Z) - hand.ends.middle) for amount in drawn.threads])
    return np.asarray(np.hypot(bites, ends))


def _length(mm: float) -> Length:
    return Length(f"{mm:.6f} mm")


def _worked(design: Design) -> Worked | None:
    try:
        return worked(design)
    except DesignError:  # so wide a thread leaves no room for a single row
        return None


def _of(design: Design) -> _Told | None:
    made = _worked(design)
    return None if made is None else _told(design, made)


def _told(design: Design, made: Worked) -> _Told:
    stroked = stroked_mm(made.ball, made.motifs, handling(design.maker), len(design.threads))
    return _Told(rows_of(len(design.layers), made.motifs), stroked)


def spread_of(likely: float, respects: Sequence[Sequence[float]], scatter: float = 0.0) -> Range:
    """``likely`` with what each respect (its changes, either way) moves it at most, upward and downward."""
    always = math.expm1(Z * scatter) * likely
    up = math.hypot(always, *(max([0.0, *changes]) for changes in respects))
    down = math.hypot(always, *(max([0.0, *(-change for change in changes)]) for changes in respects))
    return Range(max(0.0, likely - down), likely, likely + up)


def _without_marking(design: Design, drawn: Estimate) -> Floats:
    """(threads,) mm of the drawn amounts less the marking thread, which no hand changes."""
    return np.array([amount.total_mm - _marking(design, k, drawn) for k, amount in enumerate(drawn.threads)])


def _marking(design: Design, k: int, drawn: Estimate) -> float:
    return drawn.marking_mm if design.threads[k].name == design.marking.thread else 0.0


def _thread(design: Design, k: int, rows: Range, drawn: Estimate) -> ThreadDoubt:
    marking, each = _marking(design, k, drawn), skein_mm(design.threads[k])
    total = Range(rows.low + marking, rows.likely + marking, rows.high + marking)
    return ThreadDoubt(total, None if each is None else _skeins(total, each))


def _skeins(total: Range, each: float) -> Skeins:
    low, likely, take = (math.ceil(mm / each - 1e-9) for mm in (total.low, total.likely, total.high))
    odds = tuple(round(enough(total, count * each), 3) for count in range(1, min(take, MOST_TOLD) + 1))
    return Skeins(Range(low, likely, take), take, odds)


def tight_threads(design: Design, sure: Doubt, drawn: Estimate) -> Iterator[Finding]:
    """Threads of which she has enough for what is drawn, and not for every hand."""
    for thread, told, amount in zip(design.threads, sure.threads, drawn.threads, strict=True):
        have = None if thread.have is None else thread.have.mm
        if have is None or not amount.total_mm <= have < told.total.high:
            continue
        sentence = (
            f"You have {near_length(have, design.maker.units)} of {thread.name}; by hand it takes "
            f"{near_range(told.total, design.maker.units)}, so it is enough for {in_ten(enough(told.total, have))}. "
            "Have more of the same dye lot at hand, or take fewer rows of it."
        )
        yield Finding("thread short", "care", sentence, address=thread.name)


def rows_said(drawn: int, rows: Range, measured: bool) -> str:
    """``"8 rows (7 to 9 by your hand)"``; what most hands do where it is not what is drawn."""
    count = f"{drawn} row{'s' if drawn != 1 else ''}"
    if rows.low == rows.high == drawn:
        return count
    whose = "your hand" if measured else "most hands"
    if rows.likely == drawn:
        return f"{count} ({rows.low:g} to {rows.high:g} by {whose})"
    return f"{count} as drawn, with thread packed close; {rows.likely:g} by {whose} ({rows.low:g} to {rows.high:g})"


def skeins_said(skeins: Skeins) -> str:
    """``"take 2 skeins, 1 would do for three in ten"``."""
    take = f"take {skeins.take} skein{'s' if skeins.take != 1 else ''}"
    fewer = [k for k in (skeins.take - 1,) if 0 < k <= len(skeins.odds) and skeins.odds[k - 1] >= TOLD_FROM]
    return f"{take}, {fewer[0]} would do for {in_ten(skeins.odds[fewer[0] - 1])}" if fewer else take
