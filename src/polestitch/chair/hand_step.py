"""One movement of the hand, as plain data.

In: nothing.  Out: ``HandStep``.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal

from polestitch.estimate.hours import PER

Part = Literal["base", "marking", "layer", "finish"]


@dataclass(frozen=True, slots=True)
class HandStep:
    """``say`` is the one sentence; ``arcs`` is the range of arcs, in laying order, that this step lays.

    ``motif``, ``row``, ``lap`` and ``bite`` count from 1, ``layer`` from 0.  ``mm`` is measured from ``origin``.
    ``under`` and ``over`` tell in order what the needle passes on its way, and are empty where it only goes over.
    ``work`` is how much of each kind of work it is, in the units of ``estimate.hours.PER``; ``seconds`` are theirs.
    ``uses`` is thread of the document's number ``thread_index`` this step takes, in mm before the ends' share.
    """

    n: int
    part: Part
    say: str
    more: str = ""
    layer: int | None = None
    motif: int | None = None
    of_motifs: int | None = None
    row: int | None = None
    of_rows: int | None = None
    lap: int | None = None
    of_laps: int | None = None
    bite: int | None = None
    of_bites: int | None = None
    thread: str | None = None
    at: str = ""
    origin: str | None = None
    mm: float | None = None
    strip: str | None = None
    under: tuple[str, ...] = ()
    over: tuple[str, ...] = ()
    eye_first: bool = False
    xyz: tuple[float, float, float] | None = None
    row_index: int | None = None
    arcs: tuple[int, int] | None = None
    join: Literal["begin", "end"] | None = None
    thread_index: int = -1
    uses: float = 0.0
    work: Mapping[str, float] = field(default_factory=dict)

    @property
    def seconds(self) -> float:
        """How long it likely takes."""
        return sum(PER[kind].likely * amount for kind, amount in self.work.items())
