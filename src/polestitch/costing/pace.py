"""Her pace at each kind of work, learned from her own sittings; hours of a ball as an honest range.

In: sittings, the oldest first; amounts of the work ahead.  Out: ``Pace`` and ``Told`` hours.

Each kind of work has a pace: the logarithm of her seconds over the estimate's likely ones.  Before the first sitting
it is log-normal, with the estimate's own low and high as the 10th and 90th of a hundred makers, and mostly shared by
all kinds, since a slow hand is slow at everything.  A sitting's hours are the sum over its kinds of work, times what
that ball and that day did to it.  The logarithm of that sum is taken straight at the likeliest pace and straightened
anew until it stands (Gauss and Newton), which makes it Bayesian linear regression in closed form (Rasmussen and
Williams, Gaussian Processes for Machine Learning, 2006, section 2.1, from memory).  How far days and balls
scatter is not known either: every pair of a small grid is tried and weighed by how well it foretells the sittings
(the marginal likelihood).  Her pace may wander from sitting to sitting: an old sitting counts for less.
"""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from polestitch.costing.sitting import KINDS, Sitting, expected_hours
from polestitch.estimate.hours import PER

Floats = NDArray[np.float64]
INSIDE = 0.8  # of a hundred pieces, eighty take hours between low and high
Z = 1.2815515655446004  # of the standard normal law, four fifths lie within so many deviations
SHARED = 0.7  # of a pace's variance is common to all kinds of work: our choice
WANDER = 0.025  # how far her pace goes from one sitting to the next, as a standard deviation: our choice
SITTING_HOURS = 1.5  # a usual sitting, where she has none logged
DAYS = (0.1, 0.2, 0.35, 0.6)  # scatter from sitting to sitting, each as likely beforehand
BALLS = (0.05, 0.12, 0.25)  # and from ball to ball
TURNS = 10  # of straightening
MOST = 200  # sittings that are looked at, the newest


@dataclass(frozen=True)
class Span:
    """Hours from the 10th to the 90th of a hundred such pieces."""

    low: float
    likely: float
    high: float


@dataclass(frozen=True, eq=False)
class Law:
    """Her pace for one pair of scatters: normal with ``mean`` (kinds,) and ``spread`` (kinds, kinds)."""

    weight: float
    days: float
    balls: float
    mean: Floats
    spread: Floats


@dataclass(frozen=True, eq=False)
class Pace:
    """What is known of her pace, and what it was learned from."""

    laws: tuple[Law, ...]
    sittings: int
    pieces: int
    hours: float
    left_out: int
    usual: float  # hours of one of her sittings


def pace(sittings: Sequence[Sitting] = ()) -> Pace:
    """Her pace by ``sittings``, the oldest first; what cannot be believed is left out and counted."""
    good = [one for one in sittings if one.believable]
    used = good[-MOST:]
    hours = math.fsum(one.hours for one in used)
    usual = hours / len(used) if used else SITTING_HOURS
    pieces = len({one.piece for one in used})
    return Pace(_laws(used), len(used), pieces, hours, len(sittings) - len(good), usual)


def hours_ahead(known: Pace, work: Mapping[str, float]) -> Span:
    """Hours for a whole new piece of this ``work``; nothing for no work at all."""
    ahead = _row(work)
    if not ahead.sum():
        return Span(0.0, 0.0, 0.0)
    many = max(1.0, float(ahead.sum()) / known.usual)
    parts = [_foretold(law, ahead, many) for law in known.laws]
    ends = [math.exp(_quantile(parts, share)) for share in ((1 - INSIDE) / 2, 0.5, (1 + INSIDE) / 2)]
    return Span(*ends)


def times_estimate(known: Pace, kind: str) -> Span:
    """Her seconds over the estimate's likely ones for a kind of work."""
    k = KINDS.index(kind)
    parts = [(law.weight, float(law.mean[k]), math.sqrt(law.spread[k, k])) for law in known.laws]
    return Span(*(math.exp(_quantile(parts, share)) for share in ((1 - INSIDE) / 2, 0.5, (1 + INSIDE) / 2)))


def prior() -> tuple[Floats, Floats]:
    """Pace before the first sitting: mean (kinds,) and spread (kinds, kinds) of the logarithms."""
    middle = np.zeros(len(KINDS))
    each = np.array([math.log(PER[kind].high / PER[kind].low) / (2 * Z) for kind in KINDS])
    common = np.full((len(KINDS), len(KINDS)), SHARED) + (1 - SHARED) * np.eye(len(KINDS))
    return middle, np.outer(each, each) * common


def _row(work: Mapping[str, float]) -> Floats:
    """Expected hours by kind, in order."""
    hours = expected_hours(work)
    return np.array([hours.get(kind, 0.0) for kind in KINDS])


def _laws(sittings: Sequence[Sitting]) -> tuple[Law, ...]:
    pairs = [(days, balls) for days in DAYS for balls in BALLS]
    if not sittings:
        mean, spread = prior()
        return tuple(Law(1 / len(pairs), days, balls, mean, spread) for days, balls in pairs)
    expected = np.array([_row(one.work) for one in sittings])
    logs = np.log([one.hours for one in sittings])
    same = np.array([[one.piece == other.piece for other in sittings] for one in sittings], dtype=float)
    age = np.arange(len(sittings), 0, -1, dtype=float)  # the newest sitting is one step ago
    wandered = WANDER**2 * np.minimum.outer(age, age)
    found = []
    for days, balls in pairs:
        noise = wandered + balls**2 * same + days**2 * np.eye(len(sittings))
        found.append((days, balls, *settled(expected, logs, noise)))
    most = max(evidence for *_, evidence in found)
    weights = [math.exp(evidence - most) for *_, evidence in found]
    return tuple(
        Law(weight / sum(weights), days, balls, mean, spread)
        for weight, (days, balls, mean, spread, _) in zip(weights, found, strict=True)
    )


def settled(expected: Floats, logs: Floats, noise: Floats) -> tuple[Floats, Floats, float]:
    """Mean and spread of the pace, and the logarithm of the evidence.

    ``expected`` (sittings, kinds) hours, ``logs`` (sittings,) of the hours it took, ``noise`` their covariance.
    """
    middle, before = prior()
    scatter, mean = scatter_of(noise), middle
    for _ in range(TURNS):
        parts = expected * np.exp(mean)
        total = parts.sum(axis=1)
        slope = parts / total[:, None]
        off = logs - np.log(total) + slope @ (mean - middle)
        beyond, spread, evidence = regressed(slope, off, before, scatter)
        mean = middle + beyond
    return mean, spread, evidence


class Scatter(NamedTuple):
    """A covariance by its inverse and the logarithm of its determinant."""

    inverse: Floats
    log_size: float


def scatter_of(noise: Floats) -> Scatter:
    """Turned round once, since the way to the likeliest pace asks for it at every turn."""
    return Scatter(np.asarray(np.linalg.inv(noise), dtype=float), float(np.linalg.slogdet(noise)[1]))


def regressed(slope: Floats, off: Floats, before: Floats, noise: Scatter) -> tuple[Floats, Floats, float]:
    """``off`` = ``slope`` @ pace + noise, pace with covariance ``before``: its mean, spread and log evidence."""
    weighed = slope.T @ noise.inverse
    sure = np.linalg.inv(before) + weighed @ slope
    spread = np.asarray(np.linalg.inv(sure), dtype=float)
    mean = spread @ (weighed @ off)
    size = noise.log_size + float(np.linalg.slogdet(before)[1]) + float(np.linalg.slogdet(sure)[1])
    square = float(off @ noise.inverse @ off) - float(mean @ sure @ mean)
    return mean, spread, -0.5 * (square + size + len(off) * math.log(2 * math.pi))


def _foretold(law: Law, ahead: Floats, many: float) -> tuple[float, float, float]:
    """Weight, mean and deviation of the logarithm of a new piece's hours, worked in ``many`` sittings."""
    parts = ahead * np.exp(law.mean)
    total = float(parts.sum())
    slope = parts / total
    own = float(slope @ law.spread @ slope)
    return law.weight, math.log(total), math.sqrt(own + law.balls**2 + law.days**2 / many + WANDER**2 * many / 3)


def _quantile(parts: Sequence[tuple[float, float, float]], share: float) -> float:
    """Where ``share`` of a mixture of normal laws lies below."""
    low = min(mean - 8 * width for _, mean, width in parts)
    high = max(mean + 8 * width for _, mean, width in parts)
    for _ in range(60):
        middle = (low + high) / 2
        below = math.fsum(weight * _below((middle - mean) / width) for weight, mean, width in parts)
        low, high = (middle, high) if below < share else (low, middle)
    return (low + high) / 2


def _below(deviations: float) -> float:
    return 0.5 * math.erfc(-deviations / math.sqrt(2))
