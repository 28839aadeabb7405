"""Sites for tests, made by hand: a ball, its guidelines round a middle, a maker's settings."""

import numpy as np

from polestitch.ball.ball import Ball
from polestitch.document.design import Layer, Maker
from polestitch.marking.divisions import marked
from polestitch.stitching.seats import seats
from polestitch.stitching.site import Kind, Site

QUARTER = np.pi / 2


def site(
    kind: Kind, around_mm: float, ways: int, *, reach: float = QUARTER, settings: tuple[float, float] = (2.0, 1.0)
) -> Site:
    """``ways`` even guidelines; ``settings`` are the stretch and the whole bite in mm."""
    ball = Ball(around_mm)
    azimuths = np.arange(ways) * 2 * np.pi / ways
    numbers = tuple(range(1, ways + 1))
    stretch, bite = settings
    return Site(kind, ball, azimuths, np.full(ways, reach), numbers, ball.angle(stretch), ball.angle(bite) / 2)


def whole_ball(division: str, around_mm: float = 240.0) -> Site:
    """The site of a technique that works all over a marked ball."""
    layer = Layer(name="one", technique="own_path", where="ball", rows="1 navy")
    (seat,) = seats("ball", layer, marked(division), Ball(around_mm), Maker())
    return seat.site
