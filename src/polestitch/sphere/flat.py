"""Ball to paper and back: azimuthal equidistant, orthographic and gnomonic projections of the unit ball.

In: a frame (3, 3) whose rows are the paper's right, the paper's up and the way out of the ball at the
middle of the paper, and unit vectors (..., 3).  Out: paper coordinates (..., 2) in radii, and inversely.
Formulas: Snyder, Map Projections, USGS Professional Paper 1395 (1987), chapters 20, 22 and 25.
"""

import numpy as np

from polestitch.sphere.arcs import Points, cross, dot, toward

NEAR = 1e-12  # radians; within this of the middle the direction from it means nothing


def facing(middle: Points, up: Points) -> Points:
    """The frame that looks straight down on ``middle`` with ``up`` (another point, not opposite) above it; (3, 3)."""
    rise = toward(middle, up)
    return np.stack([cross(rise, middle), rise, middle])


def equidistant(frame: Points, points: Points) -> Points:
    """Distances and directions from the middle are true; the point opposite lands somewhere on the rim."""
    seen = points @ frame.T
    flat, depth = seen[..., :2], seen[..., 2]
    across = np.sqrt(dot(flat, flat))
    far = np.arctan2(across, depth)
    opposite = (across < NEAR) & (depth < 0)
    scale = np.divide(far, across, out=np.ones_like(far), where=across > NEAR)
    return np.where(opposite[..., None], [np.pi, 0.0], flat * scale[..., None])


def from_equidistant(frame: Points, flat: Points) -> Points:
    """The points at ``flat``; beyond pi from the middle the ball is passed again."""
    far = np.sqrt(dot(flat, flat))
    scale = np.sinc(far / np.pi)  # sin(far) / far
    return np.concatenate([flat * scale[..., None], np.cos(far)[..., None]], axis=-1) @ frame


def orthographic(frame: Points, points: Points) -> Points:
    """The ball from far away; points behind land on those before them (``depth`` tells them apart)."""
    return np.asarray(points @ frame[:2].T)


def depth(frame: Points, points: Points) -> Points:
    """Height of each point towards the eye: 1 at the middle, 0 on the rim, below 0 behind."""
    return np.asarray(points @ frame[2])


def from_orthographic(frame: Points, flat: Points) -> Points:
    """The points on the near half at ``flat``; nan outside the disc."""
    room = 1 - dot(flat, flat)
    height = np.sqrt(np.where(room < 0, np.nan, room))
    return np.concatenate([flat, height[..., None]], axis=-1) @ frame


def gnomonic(frame: Points, points: Points) -> Points:
    """Great circles come out straight; nan for points on the rim or behind."""
    seen = points @ frame.T
    height = np.where(seen[..., 2] > NEAR, seen[..., 2], np.nan)
    return np.asarray(seen[..., :2] / height[..., None])


def from_gnomonic(frame: Points, flat: Points) -> Points:
    """The points on the near half at ``flat``."""
    height = 1 / np.sqrt(1 + dot(flat, flat))
    return np.concatenate([flat * height[..., None], height[..., None]], axis=-1) @ frame
