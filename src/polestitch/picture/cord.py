"""The surface of a two-ply cord, worked out once: which way it faces and how deep its grooves lie.

In: nothing.  Out: ``Cord``, small tables looked up by place across and along the thread.  One table is one
half turn of the twist, after which the two plies have changed places and the surface repeats.
"""

from dataclasses import dataclass
from functools import cache

import numpy as np
from numpy.typing import NDArray

Table = NDArray[np.float32]
ACROSS = 64  # cells from edge to edge
ALONG = 64  # cells in a half turn
FIBRES = 512  # cells along of the fibre table
HALF_TURN = 3.3  # length of a half turn in half widths; pearl cotton looks about so, no source
_PLY, _OUT = 0.60, 0.43  # radius of a ply, and its distance from the cord's middle, in half widths


@dataclass(frozen=True, eq=False)
class Cord:
    """Tables (ALONG * ACROSS,): unit normal across, along and outward, and light that reaches the groove (0 to 1)."""

    across: Table
    along: Table
    outward: Table
    open: Table
    fibre: Table  # (FIBRES * ACROSS,) brightness of single fibres, mean 1


@cache
def cord(twist: int) -> Cord:
    """An S (``twist`` -1) or Z (+1) twisted cord."""
    u = (np.arange(ACROSS) + 0.5) / ACROSS * 2 - 1
    turn = (np.arange(ALONG) + 0.5) / ALONG * np.pi
    height = _height(u, turn)[:, ::twist]
    step_across, step_along = 2 / ACROSS, HALF_TURN / ALONG
    slope_across = np.gradient(height, step_across, axis=1)
    slope_along = (np.roll(height, -1, 0) - np.roll(height, 1, 0)) / (2 * step_along)
    slope_across, slope_along = np.clip(slope_across, -2.5, 2.5), np.clip(slope_along, -1.2, 1.2)
    length = np.sqrt(1 + slope_across**2 + slope_along**2)
    parts = (-slope_across / length, -slope_along / length, 1 / length, _open(height), _fibres(twist))
    across, along, outward, open_, fibre = (np.ascontiguousarray(part, dtype=np.float32).ravel() for part in parts)
    return Cord(across, along, outward, open_, fibre)


def _height(u: NDArray[np.float64], turn: NDArray[np.float64]) -> NDArray[np.float64]:
    """(ALONG, ACROSS) height over the cord's middle: the higher of two plies, and fluff between them."""
    height = 0.55 * np.sqrt(1 - u**2)[None, :] - 0.15
    for angle in (turn, turn + np.pi):
        middle, level = _OUT * np.cos(angle), _OUT * np.sin(angle)
        inside = _PLY**2 - (u[None, :] - middle[:, None]) ** 2
        height = np.maximum(height, np.where(inside > 0, level[:, None] + np.sqrt(np.maximum(inside, 0)), -1))
    return np.asarray(height)


def _open(height: NDArray[np.float64]) -> NDArray[np.float64]:
    """How open each spot lies: 1 on the crown, less where the mean height round it is more."""
    around = np.zeros_like(height)
    for shift_along in (-8, -4, 0, 4, 8):
        rolled = np.roll(height, shift_along, 0)
        for shift_across in (-8, -4, 0, 4, 8):
            around += np.take(rolled, np.clip(np.arange(ACROSS) + shift_across, 0, ACROSS - 1), axis=1)
    buried = np.maximum(around / 25 - height, 0) + 0.22 * np.maximum(0.75 - height, 0)
    return np.asarray(np.exp(-2.2 * buried))


def _fibres(twist: int) -> NDArray[np.float64]:
    """(FIBRES, ACROSS) streaks along the thread, sheared a little by the twist."""
    noise = np.random.default_rng(7).normal(size=(FIBRES, ACROSS))
    streak = np.zeros_like(noise)
    for k in range(-9, 10):
        streak += np.roll(np.roll(noise, k, 0), twist * k // 3, 1)
    streak += 0.5 * np.roll(streak, 1, 1)
    return np.asarray(np.clip(1 + 0.075 * streak / streak.std(), 0.75, 1.3))
