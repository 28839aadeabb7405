"""Thread cut before the class: a bundle a student, in lengths a hand measures, and the skeins it comes from.

In: ``WorkUp``s and how much longer to cut.  Out: ``Bundle`` records; skeins for many bundles.
"""

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from math import ceil

from polestitch.document.lengths import MM
from polestitch.document.said import Units
from polestitch.estimate import Amount
from polestitch.workup import WorkUp

# The marks a tape shows plainly; common practice, no source.
STEP: dict[Units, float] = {"mm": 50.0, "in": 2 * MM["in"]}
EXACT = 1e-6


@dataclass(frozen=True)
class Cut:
    """So many pieces of one length, in mm."""

    mm: float
    count: int


@dataclass(frozen=True)
class ThreadCuts:
    """Everything one student needs of one thread, longest first; ``marking``: some of it lays the marking."""

    thread: int
    name: str
    colour: str
    cuts: tuple[Cut, ...]
    marking: bool

    @property
    def mm(self) -> float:
        """All of it."""
        return sum(cut.mm * cut.count for cut in self.cuts)

    @property
    def pieces(self) -> tuple[float, ...]:
        """Every piece, longest first."""
        return tuple(cut.mm for cut in self.cuts for _ in range(cut.count))


@dataclass(frozen=True)
class Bundle:
    """One student's thread for a ball ``around_mm`` round."""

    around_mm: float
    threads: tuple[ThreadCuts, ...]


def bundle(work: WorkUp, spare_percent: float) -> Bundle:
    """The thread of one ball, cut.  Every piece has its share of what joins throw away, and the spare on top."""
    design = work.build.design
    step = STEP[design.maker.units]
    found = []
    for k, (thread, amount) in enumerate(zip(design.threads, work.estimate.threads)):
        marking = thread.name == design.marking.thread
        pieces = [*_stitching(work, amount, marking), *(_marking(work) if marking else ())]
        longer = [_up(mm * (1 + spare_percent / 100), step) for mm in pieces]
        if longer:
            counted = sorted(Counter(longer).items(), reverse=True)
            cuts = tuple(Cut(mm, count) for mm, count in counted)
            found.append(ThreadCuts(k, thread.name, str(thread.colour), cuts, marking))
    return Bundle(work.build.ball.around_mm, tuple(found))


def _stitching(work: WorkUp, amount: Amount, marking: bool) -> list[float]:
    """The estimate's pieces, each with an even share of what is thrown away at joins."""
    planned = sum(piece.mm for piece in amount.pieces)
    rest = amount.total_mm - planned - (work.way.mm if marking else 0.0)
    share = max(0.0, rest) / max(1, len(amount.pieces))
    return [piece.mm + share for piece in amount.pieces]


def _marking(work: WorkUp) -> tuple[float, ...]:
    return tuple(piece.mm for piece in (*work.way.pieces, *work.way.support))


def _up(mm: float, step: float) -> float:
    return round(step * ceil(mm / step - EXACT), 3)


def skeins_of(pieces: Iterable[float], skein: float | None) -> int | None:
    """Skeins that ``pieces`` are cut from, longest first, a new skein where the next does not go on the last.

    Next fit in falling order never takes fewer skeins for more pieces.  A piece longer than a skein takes
    as many as it needs.
    """
    if skein is None:
        return None
    count, left = 0, 0.0
    for mm in sorted(pieces, reverse=True):
        if mm > left + EXACT:
            fresh = ceil(mm / skein - EXACT)
            count, left = count + fresh, fresh * skein
        left -= mm
    return count


def all_pieces(bundles: Sequence[Bundle], thread: int) -> tuple[float, ...]:
    """Every piece of one thread in all bundles."""
    return tuple(mm for one in bundles for cuts in one.threads if cuts.thread == thread for mm in cuts.pieces)
