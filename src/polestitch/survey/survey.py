"""How good a marking is, and what to do about it.

In: the marking she wants, her ball, her readings.  Out: ``Survey``.
"""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from polestitch.marking.marking import Marking
from polestitch.sphere.arcs import Points
from polestitch.survey.directions import Gap, Move, gaps, moves
from polestitch.survey.field import Field, Measured, field
from polestitch.survey.leastsquares import Numbers
from polestitch.survey.moves import Placed, best_turn, placed
from polestitch.survey.network import LOOSE, Network, Observed
from polestitch.survey.nextone import most_telling
from polestitch.survey.readings import Reading
from polestitch.survey.snooping import fit_of, snooped

SIGNIFICANCE, POWER = 0.001, 0.80  # Baarda's own choice (from memory)
# How sure the size of the ball is, as a share: with her tape round it, and from the plan alone.
TAPED, PLANNED = 0.004, 0.02


@dataclass(frozen=True)
class Care:
    """How sure one reading usually is, and how near is near enough, in mm.

    Half a millimetre is what strip and pin can do (common practice, no source); a millimetre off "already shows"
    (https://jtex.wordpress.com/2012/11/12/temari-progress-with-hito-hude-gake-stitching/).
    """

    sigma_mm: float = 0.5
    near_mm: float = 1.0


@dataclass(frozen=True)
class Judged:
    """One reading against the adjusted pins."""

    reading: Reading
    off_mm: float  # read less adjusted
    test: float  # over its own standard deviation
    least_mm: float  # least misreading that would be found; infinite where no other reading checks it
    misread: bool
    twins: tuple[Reading, ...] = ()  # of a misread one: readings that may be the misread ones instead


@dataclass(frozen=True)
class Next:
    """A reading worth taking: by how many mm it lowers the mean doubt of all pins."""

    first: str
    second: str
    gain_mm: float


@dataclass(frozen=True, eq=False)
class Survey:
    """Everything the readings tell."""

    names: tuple[str, ...]  # N first
    network: Network
    turned: Placed  # where the division wants the pins, turned so that most stand
    moves: tuple[Move, ...]  # the largest first
    judged: tuple[Judged, ...]  # in order of the readings
    gaps: tuple[Gap, ...]  # the most uneven first
    next: tuple[Next, ...]  # the most telling first
    care: Care

    @property
    def unknown(self) -> tuple[str, ...]:
        """Pins whose place the readings leave open."""
        return tuple(name for name, known in zip(self.names, self.turned.known, strict=True) if not known)

    @property
    def around_mm(self) -> float:
        """Size of the ball as the readings have it."""
        return 2 * math.pi * self.network.size_mm

    @property
    def off_mm(self) -> Numbers:
        """(n,) how far each pin stands from its place; 0 where that is unknown."""
        return np.asarray(self.turned.off * self.network.size_mm)

    @cached_property
    def laid(self) -> tuple[Points, Points]:
        """(n, 3) where the pins are and (n, 3) where they ought to be, turned the way the marking itself lies."""
        turn = best_turn(self.turned.target, self.network.wanted)
        return np.asarray(self.network.at @ turn.T), np.asarray(self.turned.target @ turn.T)

    @property
    def doubt_mm(self) -> Numbers:
        """(n,) standard deviation of each pin's place in its worst direction."""
        return np.asarray(np.sqrt(np.maximum(np.linalg.eigvalsh(self.network.doubt)[:, -1], 0)))


def survey(marking: Marking, measured: Measured, readings: Sequence[Reading], care: Care | None = None) -> Survey:
    """Adjust ``readings`` and compare with ``marking``; ``DesignError`` names the line of a reading that cannot be."""
    care = care or Care()
    pins = field(marking, measured, readings)
    seen = [pins.observed(one, care.sigma_mm) for one in readings]
    tape = TAPED if measured.roundness is not None and measured.roundness.readings_mm else PLANNED
    found, out = snooped(pins.wanted, seen, tape, measured.ball.radius_mm, SIGNIFICANCE)
    turned = placed(pins.wanted, found.at, care.near_mm / found.size_mm, found.loose <= LOOSE)
    return Survey(
        pins.names,
        found,
        turned,
        moves(pins.names, found, turned),
        _judged(readings, seen, found, out),
        gaps(pins.names, found, turned),
        _next(pins, found, seen, care.sigma_mm),
        care,
    )


def _judged(
    readings: Sequence[Reading], seen: Sequence[Observed], found: Network, out: Mapping[int, tuple[int, ...]]
) -> tuple[Judged, ...]:
    kept = [k for k in range(len(seen)) if k not in out]
    solved = found.held
    told = {k: (-v, -w) for k, v, w in zip(kept, solved.residuals, solved.tests, strict=False)}
    least = dict(zip(kept, solved.detectable(SIGNIFICANCE, POWER), strict=False))
    judged = []
    for k, reading in enumerate(readings):
        twins = tuple(readings[j] for j in out.get(k, ()))
        off, test = told[k] if k in told else fit_of(found, seen[k])
        judged.append(Judged(reading, float(off), float(test), float(least.get(k, math.nan)), k in out, twins))
    return tuple(judged)


def _next(pins: Field, found: Network, seen: Sequence[Observed], sigma_mm: float) -> tuple[Next, ...]:
    names, pairs = pins.names, {frozenset(one.chain) for one in seen if len(one.chain) == 2}
    telling = most_telling(found, pairs, sigma_mm, pins.around_mm)
    return tuple(Next(names[i], names[j], gain) for i, j, gain in telling if gain > 0)
