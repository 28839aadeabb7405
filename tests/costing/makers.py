"""Makers whose pace is known, and what they would log: the truth that a back-test is held against."""

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from polestitch.costing.pace import Floats, prior
from polestitch.costing.sitting import KINDS, Sitting, expected_hours

SITTING = 1.5  # hours
AT_FIRST = ("core", "yarn", "wrap", "pins", "marking", "tacks")


@dataclass(frozen=True)
class Maker:
    """``paces`` are logarithms of her seconds over the estimate's; ``learning`` is the exponent of Wright's curve."""

    paces: Floats
    days: float
    balls: float
    learning: float = 0.0


def drawn(random: np.random.Generator, quick_or_slow: float | None, learning: float = 0.0) -> Maker:
    """A maker from among those the estimate speaks of, or one known to be quick or slow."""
    middle, spread = prior()
    paces = random.multivariate_normal(middle, spread)
    if quick_or_slow is not None:
        paces = random.multivariate_normal(middle, spread * 0.3) + quick_or_slow
    return Maker(paces, float(random.choice([0.1, 0.2, 0.3])), float(random.choice([0.05, 0.1, 0.2])), learning)


def ball(random: np.random.Generator) -> dict[str, float]:
    """A ball to stitch, from a simple one to an all-over."""
    return {
        "core": 1.0,
        "yarn": random.uniform(40, 220),
        "wrap": random.uniform(150, 1000),
        "pins": float(random.integers(10, 40)),
        "marking": random.uniform(4, 15),
        "tacks": float(random.integers(2, 60)),
        "bites": float(random.integers(100, 1500)),
        "turning": random.uniform(7, 90),
        "under": float(random.choice([0, 0, 700])),
        "laying": random.uniform(10, 90),
        "starts": float(random.integers(10, 80)),
    }


def life(random: np.random.Generator, maker: Maker, balls: Sequence[dict[str, float]]) -> list[list[Sitting]]:
    """Her sittings, ball after ball."""
    logged: list[list[Sitting]] = []
    behind = 0.0
    for number, work in enumerate(balls):
        whim = random.normal(0, maker.balls)
        logged.append([])
        for part in parts(work):
            hours = sum(each * math.exp(maker.paces[KINDS.index(kind)]) for kind, each in expected_hours(part).items())
            # Wright's learning curve (Factors Affecting the Cost of Airplanes, 1936, from memory): time falls as a
            # power of what was done before.
            practised = (1 + behind / 10) ** -maker.learning
            hours *= practised * math.exp(whim + random.normal(0, maker.days))
            behind += hours
            logged[-1].append(Sitting(str(number), hours, part))
    return logged


def parts(work: dict[str, float]) -> list[dict[str, float]]:
    """A ball's work by sittings: the base and the marking first, the stitching shared out."""
    many = max(2, round(sum(expected_hours(work).values()) / SITTING))
    stitching = {kind: amount / many for kind, amount in work.items() if kind not in AT_FIRST}
    return [{**stitching, **{kind: work[kind] for kind in AT_FIRST}}, *([stitching] * (many - 1))]
