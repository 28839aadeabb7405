"""Learning a hand from what she measured: on a sampler, at a row on the ball, on finished pieces.

In: what was known, and ``Evidence``.  Out: what is known then, and the ``measures`` to put into a design.

Pitch factor and step are learned together.  Their logarithms are jointly normal; what a piece measures is a function of
both, taken straight at the likeliest hand until that stands (Gauss and Newton), so each turn is Bayesian linear
regression in closed form (Rasmussen and Williams, Gaussian Processes for Machine Learning, 2006, section 2.1, from
memory).  One and the same hand differs from piece to piece: that much stays in doubt however often she measures.
"""

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from polestitch.document.design import Measures, Reading
from polestitch.document.lengths import Length
from polestitch.hand.hand import PIECE_SCATTER, Hand, Known

Floats = NDArray[np.float64]
TURNS, SMALL = 8, 0.02


@dataclass(frozen=True, eq=False)
class Evidence:
    """``mm`` measured to within ``error_mm``, where a hand of (pitch factor, step in mm) would leave ``wanted``."""

    mm: float
    error_mm: float
    wanted: Callable[[float, float], float]


def learned(known: Hand, evidence: Sequence[Evidence]) -> Hand:
    """The hand after all of the ``evidence``, in whatever order."""
    if not evidence:
        return known
    lasting = np.array([_lasting(known.pitch), _lasting(known.step)])
    before = np.log([known.pitch.middle, known.step.middle])
    weights = 1 / np.array([(one.error_mm / one.mm) ** 2 + PIECE_SCATTER**2 for one in evidence])
    at, inverse = before, np.diag(1 / lasting**2)
    for _ in range(TURNS):
        foretold, slopes = _straight(evidence, at)
        precision = inverse + slopes.T @ (weights[:, None] * slopes)
        gone = np.log([one.mm for one in evidence]) - foretold + slopes @ (at - before)
        at = before + np.linalg.solve(precision, slopes.T @ (weights * gone))
    spread = np.sqrt(np.diag(np.linalg.inv(precision)))
    pitch, step = (Known(math.exp(m), math.hypot(s, PIECE_SCATTER)) for m, s in zip(at.tolist(), spread.tolist()))
    return replace(known, pitch=pitch, step=step)


def averaged(known: Known, lengths: Sequence[float], error_mm: float) -> Known:
    """A plain length after readings of it: two normal laws of the logarithm multiplied."""
    if not lengths:
        return known
    error = sum((error_mm / mm) ** 2 for mm in lengths) / len(lengths) ** 2 + PIECE_SCATTER**2 / len(lengths)
    mean, lasting = sum(math.log(mm) for mm in lengths) / len(lengths), _lasting(known)
    precision = 1 / lasting**2 + 1 / error
    middle = (math.log(known.middle) / lasting**2 + mean / error) / precision
    return Known(math.exp(middle), math.hypot(precision**-0.5, PIECE_SCATTER))


def measures_of(hand: Hand, gauges: Mapping[str, float], measured: frozenset[str]) -> Measures:
    """What goes into a design: the pitch of every thread in ``gauges`` (mm by size), and what else was ``measured``."""
    pitch = {size: reading_of(scaled(hand.pitch, mm)) for size, mm in gauges.items()}
    return Measures(
        pitch=pitch,
        step=reading_of(hand.step) if "step" in measured else None,
        bite=reading_of(hand.bite) if "bite" in measured else None,
        dip=reading_of(hand.dip) if "dip" in measured else None,
    )


def scaled(known: Known, factor: float) -> Known:
    """The same doubt about ``factor`` times as much."""
    return Known(known.middle * factor, known.scatter)


def reading_of(known: Known) -> Reading:
    """As a length and one standard deviation, to a hundredth of a millimetre."""
    spread = max(0.01, known.middle * math.sqrt(math.expm1(known.scatter**2)))
    return Reading(length=Length(f"{known.middle:.2f} mm"), spread=Length(f"{spread:.2f} mm"))


def _lasting(known: Known) -> float:
    """What of the scatter is hers from piece to piece, so that measuring can lessen it."""
    return math.sqrt(max(known.scatter**2 - PIECE_SCATTER**2, 1e-6))


def _straight(evidence: Sequence[Evidence], at: Floats) -> tuple[Floats, Floats]:
    """(n,) logarithms foretold at the hand ``at``, and (n, 2) how they change with it."""

    def foretold(logs: Floats) -> Floats:
        factor, step = np.exp(logs).tolist()
        return np.log([max(one.wanted(factor, step), 1e-6) for one in evidence])

    sides = [(foretold(at + d) - foretold(at - d)) / (2 * SMALL) for d in SMALL * np.eye(2)]
    return foretold(at), np.stack(sides, axis=1)
