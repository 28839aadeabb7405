"""How placement error spreads from pin to pin: first-order propagation, and the covariance that follows.

In: an order, the error of one measure.  Out: covariances in mm^2.
Every distance d from pin Q to pin P is set with its own error e, so -(p . dP) - (q . dQ) = e, p and q
the unit tangents from each toward the other.  Each pin's shift is kept as a linear form in all errors;
two pins that hang on the same earlier pin stay correlated.  With more measures than two, least squares.
(Law of propagation of variances; Mikhail, Observations and Least Squares, from memory.)
"""

from dataclasses import dataclass

import numpy as np

from polestitch.marking.placing import Order, Placing
from polestitch.sphere.arcs import Points, arc_angle, cross, dot, toward, unit

OPPOSITE = np.pi - 1e-6


@dataclass(frozen=True, eq=False)
class Spread:
    """Shifts of every pin: ``shift[name]`` (2, errors) along the two axes of ``frame[name]`` (2, 3)."""

    frame: dict[str, Points]
    shift: dict[str, Points]

    def covariance(self, name: str, sigma: float) -> Points:
        """(2, 2) covariance of one pin, axes first east, then toward N, in the square of sigma's unit."""
        return np.asarray(sigma**2 * self.shift[name] @ self.shift[name].T)


def spread(order: Order) -> Spread:
    """Every pin's shift for errors of size one; the first pin is where it is, the second has one free way."""
    errors = sum(max(2, len(placing.measured) + 1) for placing in order.placings)
    state = Spread({name: _frame(at) for name, at in order.at.items()}, {})
    used = 0
    for placing in order.placings:
        rows, right = _equations(placing, order, state, (used, errors))
        used += max(2, len(placing.measured) + 1)
        state.shift[placing.point] = np.linalg.pinv(rows) @ right if len(rows) else np.zeros((2, errors))
    return state


def _frame(at: Points) -> Points:
    """(2, 3) two axes at a pin: along a parallel and toward N; anything square at the poles."""
    pole = abs(at[2]) > 1 - 1e-9
    side = np.array([0.0, 1.0, 0.0]) if pole else unit(cross(np.array([0.0, 0.0, 1.0]), at))
    return np.stack([side, cross(at, side)])


def _equations(placing: Placing, order: Order, state: Spread, errors: tuple[int, int]) -> tuple[Points, Points]:
    """Left (m, 2) and right (m, errors) sides, one row a measure."""
    used, count = errors
    at, frame = order.at[placing.point], state.frame[placing.point]
    gaps = [float(arc_angle(at, order.at[name])) for name in placing.measured]
    if len(placing.measured) == 1 and gaps[0] > OPPOSITE:
        return _opposite(state, placing, frame, errors)
    left, right = np.zeros((0, 2)), np.zeros((0, count))
    for n, (name, gap) in enumerate(zip(placing.measured, gaps)):
        here = _aside(at, order, placing) if gap > OPPOSITE else toward(at, order.at[name])
        there = here if gap > OPPOSITE else toward(order.at[name], at)
        left = np.vstack([left, -frame @ here])
        right = np.vstack([right, there @ state.frame[name].T @ state.shift[name]])
        right[-1, used + n] = 1.0
    if placing.on is not None:
        row, line = _on_line(placing.on, at, order, state)
        line[used + len(placing.measured)] = 1.0
        left, right = np.vstack([left, frame @ row]), np.vstack([right, line])
    return left, right


def _opposite(state: Spread, placing: Placing, frame: Points, errors: tuple[int, int]) -> tuple[Points, Points]:
    """A pin half way round, tried in every direction: it mirrors the other's shift, with an error each way."""
    used, count = errors
    name = placing.measured[0]
    own = np.zeros((2, count))
    own[0, used] = own[1, used + 1] = 1.0
    return np.eye(2), own - frame @ state.frame[name].T @ state.shift[name]


def _aside(at: Points, order: Order, placing: Placing) -> Points:
    """Way to an opposite pin: square to the first other measure, as a strip lies along the obi."""
    others = [order.at[n] for n in placing.measured if float(arc_angle(at, order.at[n])) < OPPOSITE]
    return unit(cross(at, toward(at, others[0])))


def _on_line(ends: tuple[str, str], at: Points, order: Order, state: Spread) -> tuple[Points, Points]:
    """The way square to the line at the pin, and how far its ends' shifts move the line there."""
    first, last = order.at[ends[0]], order.at[ends[1]]
    normal = unit(cross(first, last))
    whole, here = float(arc_angle(first, last)), float(arc_angle(first, at))
    shares = (np.sin(whole - here) / np.sin(whole), np.sin(here) / np.sin(whole))
    moved = [share * (normal @ state.frame[end].T @ state.shift[end]) for share, end in zip(shares, ends)]
    return normal, np.asarray(moved[0] + moved[1])


def judged(order: Order, told: Spread) -> dict[str, Points]:
    """Shifts (2, errors) of the pins that stay, less the turn of the whole ball that fits them best.

    A marking turned as a whole is no worse, so a first pin is no better placed than any other.
    """
    names = [name for name in order.at if name not in order.helps]
    shifts = np.concatenate([told.shift[name] for name in names])
    turns = np.concatenate([told.frame[name] @ _turns(order.at[name]) for name in names])
    left = shifts - turns @ np.linalg.lstsq(turns, shifts, rcond=None)[0]
    return {name: left[2 * n : 2 * n + 2] for n, name in enumerate(names)}


def _turns(at: Points) -> Points:
    """(3, 3) how a spot moves with a small turn about each axis, a column an axis."""
    return np.asarray(cross(np.eye(3), at).T)


def rms(shift: Points, sigma: float) -> float:
    """Root mean square distance of a pin from where it belongs."""
    return float(sigma * np.sqrt(dot(shift, shift).sum()))
