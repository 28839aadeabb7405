"""Turning the ball: rotation matrices (3, 3) that act as ``points @ turn.T``."""

import numpy as np

from polestitch.sphere.arcs import Points, cross, unit


def turn_about(axis: Points, angle: float) -> Points:
    """Right-handed turn by ``angle`` about the unit vector ``axis`` (Rodrigues' formula)."""
    x, y, z = axis
    cross = np.array([[0.0, -z, y], [z, 0.0, -x], [-y, x, 0.0]])
    return np.asarray(np.eye(3) + np.sin(angle) * cross + (1 - np.cos(angle)) * cross @ cross)


def turn_onto(start: Points, end: Points) -> Points:
    """The shortest turn that takes ``start`` to ``end``; of opposite points, one of the half turns."""
    middle = start + end
    if float(middle @ middle) < 1e-20:
        side = cross(start, np.eye(3)[np.argmin(np.abs(start))])
        return turn_about(unit(side), np.pi)
    # two mirrors make a turn: through the middle of the arc, then through its end
    return np.asarray((2 * np.outer(end, end) - np.eye(3)) @ (2 * np.outer(unit(middle), unit(middle)) - np.eye(3)))


def turned(points: Points, turn: Points) -> Points:
    """``points`` (..., 3) after ``turn``."""
    return np.asarray(points @ turn.T)
