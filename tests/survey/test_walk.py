"""A newcomer's walk: pins a millimetre off, a strip read to half a millimetre, and the moves made as told."""

import numpy as np
import pytest

from polestitch.sphere.arcs import arc_angle, unit
from polestitch.survey import Care, Reading, survey
from polestitch.survey.form import asked
from polestitch.survey.moves import best_turn
from polestitch.survey.survey import Survey
from tests.survey.balls import Set, pinned

STRIP_MM, PINS_MM = 0.3, 1.0


def uneven(ball: Set) -> np.ndarray:
    """How far each pin is from an even marking, in mm."""
    even = ball.wanted @ best_turn(ball.wanted, ball.at).T
    return np.asarray(arc_angle(ball.at, even)) * ball.radius_mm


def read(ball: Set, luck: np.random.Generator) -> list[Reading]:
    """Every distance of the form, once, to half a millimetre."""
    index = {name: k for k, name in enumerate(ball.names)}
    pairs = asked(ball.marking, ball.measured)
    told = [ball.read(index[one.first], index[one.second], luck.normal(0, STRIP_MM)) for one in pairs]
    return [Reading(one.first, one.second, round(one.mm * 2) / 2) for one in told]


def moved(ball: Set, found: Survey) -> Set:
    """The ball after every move, each made from where the pin really stands."""
    order = [ball.names.index(name) for name in found.names]
    at, turn = ball.at.copy(), best_turn(found.network.at, ball.at[order])
    there, target = found.network.at @ turn.T, found.turned.target @ turn.T
    for move in found.moves:
        k = found.names.index(move.point)
        at[order[k]] = unit(at[order[k]] + target[k] - there[k])
    return Set(ball.marking, ball.measured, ball.names, ball.wanted, at)


@pytest.mark.slow
@pytest.mark.parametrize(("division", "balls"), [("S4+obi", 40), ("S8+obi", 40), ("C8", 12), ("C10", 6)])
def test_the_moves_bring_an_uneven_marking_near_even(division: str, balls: int) -> None:
    before, after = [], []
    for seed in range(balls):
        luck = np.random.default_rng(seed)
        ball = pinned(division, PINS_MM, luck)
        before.append(uneven(ball))
        after.append(uneven(moved(ball, survey(ball.marking, ball.measured, read(ball, luck), Care(STRIP_MM)))))
    worst = [float(np.mean([off.max() for off in each])) for each in (before, after)]
    mean = [float(np.mean([off.mean() for off in each])) for each in (before, after)]
    assert worst[1] < 0.6 * worst[0]
    assert mean[1] < 0.6 * mean[0]
