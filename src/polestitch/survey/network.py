"""Pins as a survey network on the ball: distances are observed, places are unknown, N stays put.

In: where pins ought to be, what was read between which.  Out: ``Network``: where they are, and how sure that is.

Unknown are two moves of every pin but N, in mm along its own east and north, and the size of the ball as a factor,
which is an observation too: her tape round the ball.  Turning everything about N changes no distance; the
adjustment leaves that turn at nothing, and so the pins' mean turn is the gauge.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from polestitch.sphere.arcs import Points, arc_angle, cross, dot, move, toward, unit
from polestitch.survey.leastsquares import Numbers, Solved

Indices = NDArray[np.intp]
ROUNDS, STILL_MM, SMALLEST_SHARE = 30, 1e-9, 1e-3
# A place known no better than this is not known: how far a pin set by eye is usually off (common practice, no source).
GUESS_MM = 3.0
LOOSE = 1e-2


@dataclass(frozen=True, eq=False)
class Observed:
    """A strip laid over ``chain`` of pins and read once: ``mm`` with a standard deviation of ``sigma_mm``.

    ``around_mm`` is the way round the ball along each leg of the chain.
    """

    chain: tuple[int, ...]
    mm: float
    sigma_mm: float
    around_mm: tuple[float, ...]


@dataclass(frozen=True, eq=False)
class Legs:
    """Every leg of every strip: of which reading, from which pin to which, and mm a radian."""

    mm: Numbers  # (m,) what each reading says
    of: Indices  # (l,)
    start: Indices  # (l,)
    end: Indices  # (l,)
    radius: Numbers  # (l,)


@dataclass(frozen=True, eq=False)
class Network:
    """Pins adjusted; row 0 of ``at`` is N, which stays."""

    wanted: Points  # (n, 3) where the division has them
    at: Points  # (n, 3) where they are
    scale: float  # size of the ball over what the tape said
    solved: Solved  # the last round: rows are the observations, then the tape
    open: Numbers  # (u, d) mixtures of moves that the readings leave open
    radius_mm: float

    @cached_property
    def held(self) -> Solved:
        """The last round in those mixtures of moves alone that the readings fix."""
        held = _span(self.open)
        return Solved(self.solved.a @ held, self.solved.wanted, self.solved.sigma)

    @cached_property
    def covariance(self) -> Numbers:
        """(u, u) of moves and scale; nothing along ``open``."""
        held = _span(self.open)
        return np.asarray(held @ self.held.covariance @ held.T)

    @property
    def size_mm(self) -> float:
        """Radius of the ball as the readings have it."""
        return self.radius_mm * self.scale

    @cached_property
    def doubt(self) -> NDArray[np.float64]:
        """(n, 2, 2) covariance in mm² of each pin's own place, along its east and north; nothing for N."""
        covariance, pins = self.covariance, np.arange(len(self.at) - 1)
        blocks = np.zeros((len(self.at), 2, 2))
        blocks[1:] = covariance[2 * pins[:, None, None] + [[0], [1]], 2 * pins[:, None, None] + [[0, 1]]]
        return blocks

    def lacking(self, seen: Sequence[Observed]) -> Numbers:
        """(m,) mm by which each reading is longer than these pins make it."""
        return missing(self.at, legs_of(seen), self.scale)[:-1]

    @cached_property
    def loose(self) -> Numbers:
        """(n,) how far a pin can wander, no reading objecting: 0 not at all, 1 or more freely.

        Turning everything about N is no wandering, so one pin is held: the one that leaves fewest others loose.
        """
        ways = (_wander(self.open, pin) for pin in range(1, len(self.at)))
        found = min(ways, key=lambda sizes: int((sizes > LOOSE).sum()), default=np.zeros(0))
        return np.concatenate([[0.0], found])


def _wander(open_: Numbers, pin: int) -> Numbers:
    """(n - 1,) how far each pin but the first goes along ``open_`` while ``pin`` stays."""
    _, sizes, ways = np.linalg.svd(open_[2 * pin - 2 : 2 * pin], full_matrices=False)
    stopped = open_ @ ways[sizes > LOOSE].T
    still = np.maximum((open_**2).sum(axis=1) - (stopped**2).sum(axis=1), 0)
    return np.asarray(np.sqrt(still[:-1].reshape(-1, 2).sum(axis=1)))


def legs_of(seen: Sequence[Observed]) -> Legs:
    """The legs of ``seen``, in order."""
    flat = [
        (k, i, j, around / (2 * np.pi))
        for k, one in enumerate(seen)
        for (i, j), around in zip(pairwise(one.chain), one.around_mm, strict=True)
    ]
    of, start, end, radius = (np.array(column) for column in zip(*flat, strict=True)) if flat else (np.zeros(0),) * 4
    mm = np.array([one.mm for one in seen])
    return Legs(mm, of.astype(np.intp), start.astype(np.intp), end.astype(np.intp), radius.astype(float))


def network(wanted: Points, seen: Sequence[Observed], tape: float, radius_mm: float) -> Network:
    """Adjust ``seen`` from ``wanted`` (n, 3), N first; ``tape`` is the standard deviation of the ball's size, a share.

    Gauss-Newton on the sphere; every step is halved until it fits better.  What the readings leave open is judged
    where the pins ought to be and stays there: a pin in one line with the two it was measured from is held along the
    line alone, though once it has strayed sideways the same two readings seem to say how far.
    """
    legs, net = legs_of(seen), begun(wanted, seen, tape, radius_mm)
    held, sigma = _span(net.open), net.solved.sigma
    misfit = float(((net.solved.wanted / sigma) ** 2).sum())
    for _ in range(ROUNDS):
        step = held @ Solved(net.solved.a @ held, net.solved.wanted, sigma).correction
        net, misfit, better = _shorter(net, legs, step, misfit)
        if not better or np.abs(step[:-1]).max(initial=0.0) < STILL_MM:
            break
    return net


def begun(wanted: Points, seen: Sequence[Observed], tape: float, radius_mm: float) -> Network:
    """Every pin still at its wanted place: enough to tell how sure places become, whatever will be read."""
    legs, sigma = legs_of(seen), np.array([*(one.sigma_mm for one in seen), tape])
    first = Solved(rows(wanted, legs, 1.0, radius_mm, wanted), missing(wanted, legs, 1.0), sigma, GUESS_MM)
    return Network(wanted, wanted.copy(), 1.0, first, first.unknown, radius_mm)


def _span(unknown: Numbers) -> Numbers:
    """(u, r) an orthonormal basis of everything square to ``unknown`` (u, d)."""
    full = np.linalg.svd(unknown, full_matrices=True)[0]
    return np.asarray(full[:, unknown.shape[1] :])


def _shorter(net: Network, seen: Legs, step: Numbers, misfit: float) -> tuple[Network, float, bool]:
    """``net`` after ``step``, or a half, a quarter … of it: the first that fits no worse."""
    share, sigma = 1.0, net.solved.sigma
    while share > SMALLEST_SHARE:
        at = moved(net.at, net.wanted, share * step, net.radius_mm)
        scale = net.scale + share * float(step[-1])
        left = missing(at, seen, scale)
        off = float(((left / sigma) ** 2).sum())
        if off <= misfit * (1 + 1e-12):
            table = rows(at, seen, scale, net.radius_mm, net.wanted)
            return replace(net, at=at, scale=scale, solved=Solved(table, left, sigma, net.solved.worst)), off, True
        share /= 2
    return net, misfit, False


def frames(at: Points, wanted: Points) -> tuple[Points, Points]:
    """East and north of every pin, as at its wanted place; on the axis, where there are none, x and y."""
    east = np.stack([-wanted[:, 1], wanted[:, 0], np.zeros(len(at))], axis=-1)
    east = np.where(dot(east, east)[:, None] < 1e-18, [1.0, 0.0, 0.0], east)
    east = unit(east - dot(east, at)[:, None] * at)
    return east, cross(at, east)


def moved(at: Points, wanted: Points, step: Numbers, radius_mm: float) -> Points:
    """(n, 3) pins after ``step`` (mm east and north of all but the first, then the scale)."""
    east, north = frames(at, wanted)
    along = step[:-1].reshape(-1, 2) / radius_mm
    shift = along[:, :1] * east[1:] + along[:, 1:] * north[1:]
    size = np.sqrt(dot(shift, shift))
    still = size < 1e-300
    there = move(at[1:], np.where(still[:, None], east[1:], shift / np.where(still, 1, size)[:, None]), size)
    return np.concatenate([at[:1], unit(there)])


def missing(at: Points, seen: Legs, scale: float) -> Numbers:
    """(m + 1,) observed less computed in mm; last what the tape said of the scale, a share."""
    lengths = seen.radius * arc_angle(at[seen.start], at[seen.end])
    return np.append(seen.mm - scale * np.bincount(seen.of, lengths, len(seen.mm)), 1 - scale)


def rows(at: Points, seen: Legs, scale: float, radius_mm: float, wanted: Points) -> Numbers:
    """(m + 1, 2 (n - 1) + 1) how each observation changes as pins move by 1 mm and the scale by 1."""
    east, north = frames(at, wanted)
    table = np.zeros((len(seen.mm) + 1, len(at), 2))
    for here, there in ((seen.start, seen.end), (seen.end, seen.start)):
        away = -toward(at[here], at[there]) * (scale * seen.radius / radius_mm)[:, None]
        along = np.stack([dot(away, east[here]), dot(away, north[here])], axis=-1)
        np.add.at(table, (seen.of, here), along)
    lengths = np.bincount(seen.of, seen.radius * arc_angle(at[seen.start], at[seen.end]), len(seen.mm))
    return np.column_stack([table[:, 1:].reshape(len(table), -1), np.append(lengths, 1)])
