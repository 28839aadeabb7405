"""The fourteen kinds of symmetry a ball can have, named as Conway does, and in plain words.

In: every turn and mirroring (n, 3, 3) that leaves a ball as it was.  Out: ``Kind``.

Orbifold notation: digits before a star are centres a ball turns about without mirrors, digits after it
corners where mirrors meet; x is a mirroring with no mirror.  A group costs (n - 1)/n for a digit n before
the star, half of that for one after it, 1 for a star or an x; its order is 2/(2 - cost).
Source: Conway, Burgiel and Goodman-Strauss, The Symmetries of Things (from memory).
"""

from dataclasses import dataclass
from fractions import Fraction

import numpy as np

from polestitch.sphere.arcs import Points

NEAR = 1e-3  # what two axes or two mirrors of one group cannot differ by, and rounding never reaches


@dataclass(frozen=True)
class Kind:
    """A ball's symmetry: ``turns`` ways it turns onto itself, and whether its mirror image is the same ball.

    ``order`` counts both; 0 where any turn about an axis will do.
    """

    orbifold: str
    turns: int
    mirrored: bool
    plain: str

    @property
    def order(self) -> int:
        """Turns and mirrorings together."""
        return self.turns * (2 if self.mirrored else 1)


def kind_of(group: Points) -> Kind:
    """The kind of a finite group (n, 3, 3) given whole, the identity included."""
    proper = np.linalg.det(group) > 0
    turns, flips = group[proper], group[~proper]
    axes = _axes(turns)
    orbifold = _with_flips(axes, flips) if len(flips) else _signature(axes)
    return Kind(orbifold, len(turns), len(flips) > 0, _plain(len(turns), len(flips)))


def round_kind(ends_alike: bool) -> Kind:
    """The kind of thread that lies in whole circles about one axis: any turn about it will do."""
    words = "turns onto itself by any angle about one axis, and is its own mirror image"
    return Kind("*22∞" if ends_alike else "*∞∞", 0, True, words)


def bare_kind() -> Kind:
    """The kind of a ball without thread."""
    return Kind("*∞∞∞", 0, True, "is the same from every side")


def cost(orbifold: str) -> Fraction:
    """What a group costs by its name, digits of one figure or in brackets: ``"*532"``, ``"22(10)"``."""
    total, starred, rest = Fraction(0), False, orbifold
    while rest:
        if rest[0] in "*x":
            total, starred, rest = total + 1, True, rest[1:]
            continue
        digits, rest = rest[1:].split(")", 1) if rest[0] == "(" else (rest[0], rest[1:])
        share = Fraction(int(digits) - 1, int(digits))
        total += share / 2 if starred else share
    return total


def _axes(turns: Points) -> list[tuple[int, Points]]:
    """Every axis once with its order, the highest first."""
    found: list[tuple[int, Points]] = []
    for turn in turns[np.einsum("kii->k", turns) < 3 - NEAR**2]:
        axis = _axis(turn)
        if not any(abs(axis @ other) > 1 - NEAR**2 / 2 for _, other in found):
            about = int(np.count_nonzero(np.linalg.norm(turns @ axis - axis, axis=1) < NEAR))
            found.append((about, axis))
    return sorted(found, key=lambda entry: -entry[0])


def _axis(turn: Points) -> Points:
    """(3,) the direction a turn keeps; the turn is not the identity."""
    _, _, rows = np.linalg.svd(turn - np.eye(3))
    return np.asarray(rows[2])


def _signature(axes: list[tuple[int, Points]]) -> str:
    """Name of a group of turns alone."""
    orders = [order for order, _ in axes]
    if orders.count(3) == 4 and 4 not in orders:
        return "332"
    if orders.count(4) == 3:
        return "432"
    if orders.count(5) == 6:
        return "532"
    if not orders:
        return "1"
    top = _figure(orders[0])
    return top * 2 if len(orders) == 1 else f"22{top}"


def _with_flips(axes: list[tuple[int, Points]], flips: Points) -> str:
    """Name of a group that has mirrorings ``flips`` too."""
    turning = _signature(axes)
    if turning in ("432", "532"):
        return f"*{turning}"
    if turning == "332":
        return "3*2" if np.any(np.linalg.norm(flips + np.eye(3), axis=(1, 2)) < NEAR) else "*332"
    mirrors = [_axis(-flip) for flip in flips[np.abs(np.einsum("kii->k", flips) - 1) < NEAR]]
    if not axes:
        return "*" if mirrors else "x"
    top = _figure(axes[0][0])
    if len(axes) == 1:
        return _about_one_axis(top, axes[0][1], mirrors)
    level = all(any(abs(mirror @ axis) > 1 - NEAR for mirror in mirrors) for _, axis in axes[: 3 if top == "2" else 1])
    return f"*22{top}" if level else f"2*{top}"


def _about_one_axis(top: str, axis: Points, mirrors: list[Points]) -> str:
    if not mirrors:
        return f"{top}x"
    return f"{top}*" if abs(mirrors[0] @ axis) > 0.5 else f"*{top * 2}"


def _figure(order: int) -> str:
    return str(order) if order < 10 else f"({order})"


def _plain(turns: int, flips: int) -> str:
    if turns == 1:
        return "is its own mirror image, but no turn brings it onto itself" if flips else "looks new from every side"
    alike = "and is its own mirror image" if flips else "mirror images differ"
    return f"turns onto itself in {turns} ways, {alike}"
