"""The survey of pins on the ball, against a general optimiser, geodesics, and simulated balls."""

import math

import numpy as np
import pytest
from geographiclib.geodesic import Geodesic
from scipy.optimize import least_squares
from scipy.spatial.transform import Rotation

from polestitch.ball.measured import ball_of, roundness
from polestitch.document.design import BallSpec
from polestitch.document.lengths import Length
from polestitch.errors import DesignError
from polestitch.marking.divisions import marked
from polestitch.sphere.arcs import arc_angle, unit
from polestitch.survey import Care, Measured, Reading, survey
from polestitch.survey.field import field
from polestitch.survey.leastsquares import critical
from polestitch.survey.moves import best_turn
from polestitch.survey.survey import POWER, SIGNIFICANCE, Survey
from polestitch.survey.told import said
from tests.survey.balls import Set, pinned

EXACT = Care(sigma_mm=0.5, near_mm=0.2)


def after_moves(ball: Set, found: Survey) -> np.ndarray:
    """How far each pin is from an even marking, in mm, once every move is made as told.

    The hand carries a pin by the vector told, from where it really stands; the survey's own idea of where all is
    may be turned about N as a whole.
    """
    order = [ball.names.index(name) for name in found.names]
    at, wanted = ball.at[order].copy(), ball.wanted[order]
    turn = best_turn(found.network.at, at)
    there, target = found.network.at @ turn.T, found.turned.target @ turn.T
    for move in found.moves:
        k = found.names.index(move.point)
        at[k] = unit(at[k] + target[k] - there[k])
    even = wanted @ best_turn(wanted, at).T
    return np.asarray(arc_angle(at, even)) * ball.radius_mm


@pytest.mark.parametrize("division", ["S4+obi", "S8+obi", "S5+obi", "C6", "C8", "C10"])
def test_exact_readings_find_every_pin(division: str) -> None:
    ball = pinned(division, 2.0, np.random.default_rng(7))
    found = survey(ball.marking, ball.measured, [ball.read(i, j) for i, j in ball.pairs(2.4)], EXACT)
    order = [ball.names.index(name) for name in found.names]
    there = found.network.at @ best_turn(found.network.at, ball.at[order]).T
    assert np.asarray(arc_angle(there, ball.at[order])).max() * ball.radius_mm < 1e-3
    assert found.unknown == ()
    assert found.network.scale == pytest.approx(1, abs=1e-6)
    assert after_moves(ball, found).max() <= EXACT.near_mm + 1e-3


def test_adjusted_places_are_those_of_a_general_optimiser() -> None:
    """scipy's trust-region least squares on longitudes and latitudes, distances by geographiclib on a sphere."""
    luck = np.random.default_rng(11)
    ball = pinned("S4+obi", 1.5, luck)
    readings = ball.readings(0.4, luck)
    found = survey(ball.marking, ball.measured, readings)
    sphere = Geodesic(ball.radius_mm, 0.0)
    index = {name: k for k, name in enumerate(found.names)}

    wanted = found.network.wanted
    aside = np.stack([np.cross(wanted, [0.3, 0.5, 0.8]), np.cross(wanted, [0.8, -0.5, 0.1])], axis=1)

    def places(x: np.ndarray) -> np.ndarray:
        """Latitude and longitude in degrees; two numbers move a pin, and N stays."""
        at = unit(wanted + np.einsum("nk,nkj->nj", np.concatenate([[0, 0], x[:-1]]).reshape(-1, 2), aside))
        return np.degrees(np.stack([np.arcsin(at[:, 2]), np.arctan2(at[:, 1], at[:, 0])], axis=1))

    def off(x: np.ndarray) -> list[float]:
        spots = places(x)
        gone = [
            sphere.Inverse(*spots[index[one.first]], *spots[index[one.second]])["s12"] * x[-1] - one.mm
            for one in readings
        ]
        return [*(g / 0.5 for g in gone), (x[-1] - 1) / 0.02]

    best = least_squares(off, [*np.zeros(2 * len(wanted) - 2), 1.0], xtol=1e-12, ftol=1e-12, gtol=1e-12)
    theirs = 2 * best.cost
    mine = float(
        (found.network.held.residuals / found.network.held.sigma)
        @ (found.network.held.residuals / found.network.held.sigma)
    )
    assert not any(one.misread for one in found.judged)
    assert mine == pytest.approx(theirs, rel=1e-6)
    assert found.network.scale == pytest.approx(float(best.x[-1]), abs=1e-6)


def test_a_turned_marking_needs_no_moves() -> None:
    """The division lies in any turn: no pin has a place of its own."""
    ball = pinned("C8", 0.0, np.random.default_rng(1))
    turned = Set(
        ball.marking,
        ball.measured,
        ball.names,
        ball.wanted,
        Rotation.from_euler("xyz", [9, 5, 70], degrees=True).apply(ball.wanted),
    )
    found = survey(turned.marking, turned.measured, [turned.read(i, j) for i, j in turned.pairs()])
    assert found.moves == ()
    assert said(found)[0].startswith("All 18 pins")


def test_one_pin_off_is_the_only_one_to_move() -> None:
    ball = pinned("S8+obi", 0.0, np.random.default_rng(1))
    at = ball.at.copy()
    k = ball.names.index("obi 3")
    at[k] = unit(at[k] + np.array([0, 0, 4 / ball.radius_mm]))
    moved = Set(ball.marking, ball.measured, ball.names, ball.wanted, at)
    found = survey(moved.marking, moved.measured, [moved.read(i, j) for i, j in moved.pairs()])
    assert [move.point for move in found.moves] == ["obi 3"]
    (part,) = found.moves[0].parts
    assert part.toward == "S"
    assert part.mm == pytest.approx(ball.radius_mm * math.atan(4 / ball.radius_mm), abs=1e-3)
    assert {check.point for check in found.moves[0].checks} <= set(ball.names) - {"obi 3"}


@pytest.mark.slow
def test_doubt_is_what_a_thousand_balls_scatter_by() -> None:
    """Monte Carlo: the covariance told is the covariance seen."""
    luck = np.random.default_rng(3)
    ball = pinned("S4+obi", 0.0, luck)
    seen = []
    for _ in range(300):
        found = survey(ball.marking, ball.measured, ball.readings(0.5, luck))
        if not any(one.misread for one in found.judged):
            seen.append(found.network.at @ best_turn(found.network.at, found.network.wanted).T)
    free = np.array(seen) - np.mean(seen, axis=0)
    spread = np.sqrt((free**2).sum(axis=(0, 2)) / len(seen)) * ball.radius_mm
    told = np.sqrt(np.trace(found.network.doubt, axis1=1, axis2=2))
    # The best turn takes the turn about all axes out, the survey's own gauge keeps N: the mean is compared.
    assert np.sqrt(np.mean(spread**2)) == pytest.approx(np.sqrt(np.mean(told**2)), rel=0.25)


@pytest.mark.slow
def test_moves_bring_a_thousand_balls_to_within_the_strip() -> None:
    """Each distance read six times over: then every pin ends within one reading's own standard deviation.

    One reading of each cannot do that: it leaves the pins in doubt by about half of it in each direction.
    """
    luck, sigma = np.random.default_rng(5), 0.5
    good = 0
    for _ in range(1000):
        ball = pinned("S4+obi", 2.0, luck)
        found = survey(ball.marking, ball.measured, ball.readings(sigma, luck, times=6), Care(sigma, 0.1))
        good += bool(after_moves(ball, found).max() <= sigma)
    assert good >= 990


@pytest.mark.slow
def test_a_planted_misreading_is_found_at_its_power() -> None:
    """Found means named, alone or as one of those that cannot be told apart (N and S to one pin of the obi)."""
    luck, sigma = np.random.default_rng(9), 0.5
    ball = pinned("S6+obi", 0.0, luck)
    clean = survey(ball.marking, ball.measured, ball.readings(0.0, luck))
    power = 0.99
    least = clean.network.held.detectable(SIGNIFICANCE, power)[:-1]
    found, tries = 0, 400
    for n in range(tries):
        readings = ball.readings(sigma, luck)
        k = n % len(readings)
        one = readings[k]
        readings[k] = Reading(one.first, one.second, one.mm + least[k] * (-1) ** n)
        judged = survey(ball.marking, ball.measured, readings).judged
        found += any(one.misread and (one is judged[k] or readings[k] in one.twins) for one in judged)
    assert found >= 0.95 * tries


@pytest.mark.slow
def test_misreadings_are_rarely_cried_where_there_are_none() -> None:
    luck = np.random.default_rng(13)
    ball = pinned("S4+obi", 1.0, luck)
    readings = [ball.readings(0.5, luck) for _ in range(100)]
    cried = sum(any(one.misread for one in survey(ball.marking, ball.measured, each).judged) for each in readings)
    assert cried <= 100 * len(readings[0]) * SIGNIFICANCE + 3 * math.sqrt(100 * len(readings[0]) * SIGNIFICANCE)
    assert critical(SIGNIFICANCE) == pytest.approx(3.29, abs=0.005)  # Baarda 1968, from memory
    assert POWER == 0.8


def test_few_readings_say_what_cannot_be_known() -> None:
    ball = pinned("S8+obi", 1.0, np.random.default_rng(2))
    rows = [(i, j) for i, j in ball.pairs() if "N" in (ball.names[i], ball.names[j])]
    found = survey(ball.marking, ball.measured, [ball.read(i, j) for i, j in rows])
    assert set(found.unknown) >= {"obi 2", "obi 5"}
    assert any("leave open" in sentence for sentence in said(found))
    assert found.next


def test_pins_in_one_line_are_held_along_it_alone() -> None:
    """A pin halfway between two others: their readings say nothing of how far it strayed sideways."""
    ball = pinned("C8", 0.0, np.random.default_rng(4))
    named = dict(enumerate(ball.names))
    rows = [
        (i, j)
        for i, j in ball.pairs()
        if not {named[i], named[j]} & {"diamond 9", "diamond 10", "diamond 11", "diamond 12"}
    ]
    lone = ball.names.index("diamond 9")
    ends = [ball.names.index(name) for name in ("S", "centre 2")]
    assert sum(float(arc_angle(ball.at[lone], ball.at[end])) for end in ends) == pytest.approx(math.pi / 2)
    readings = [ball.read(i, j, 0.3) for i, j in [*rows, *((end, lone) for end in ends)]]
    found = survey(ball.marking, ball.measured, readings)
    assert "diamond 9" in found.unknown


def test_a_meridian_of_its_own_length_is_measured_by_it() -> None:
    """A ball 2 % longer over the poles along line 1: distances that are right on it are told as right."""
    spec = BallSpec(around=Length("250 mm"), measured={"pole_to_pole": ["255 mm", "250 mm"], "obi": ["250 mm"]})
    round_ = roundness(spec)
    marking, measured = marked("S4+obi"), Measured(ball_of(spec), round_)
    pins = field(marking, measured, ())
    around = pins.around_mm
    readings = [
        Reading(
            pins.names[i],
            pins.names[j],
            float(around[i, j] * arc_angle(pins.wanted[i], pins.wanted[j]) / (2 * math.pi)),
        )
        for i, j in Set(marking, measured, pins.names, pins.wanted, pins.wanted).pairs()
    ]
    assert {round(one.mm, 2) for one in readings if one.first == "N"} == {63.75, 62.5}
    found = survey(marking, measured, readings)
    assert found.moves == ()
    assert found.off_mm.max() < 1e-6


@pytest.mark.parametrize(
    ("reading", "part"),
    [
        (Reading("N", "obi 99", 62, line=4), "line 4"),
        (Reading("N", "N", 62, line=2), "one pin"),
        (Reading("N", "S", 125, line=3), "via"),
        (Reading("N", "obi 2", 12, line=5), "should be about 62 mm"),
    ],
)
def test_readings_that_cannot_be_are_refused(reading: Reading, part: str) -> None:
    ball = pinned("S8+obi", 0.0, np.random.default_rng(1))
    with pytest.raises(DesignError, match=part):
        survey(ball.marking, ball.measured, [reading])


def test_a_strip_over_a_third_pin_reads_both_legs() -> None:
    ball = pinned("S8+obi", 0.0, np.random.default_rng(1))
    found = survey(ball.marking, ball.measured, [Reading("N", "S", 125.5, via="obi 3"), Reading("N", "obi 3", 62.5)])
    assert found.judged[0].off_mm < 0.5
    assert found.off_mm.max() < 0.5
