"""How placement error spreads: against hand-derived cases, analytic covariance and a simulation of real placing."""

import math

import numpy as np
import pytest

from polestitch.marking.advice import advice, advice_said
from polestitch.marking.divisions import marked
from polestitch.marking.placing import Order, Placing, orders
from polestitch.marking.spread import judged, rms, spread
from polestitch.sphere.arcs import arc_angle, toward, unit

N, X = np.array([0.0, 0.0, 1.0]), np.array([1.0, 0.0, 0.0])


def on_equator(turn: float) -> np.ndarray:
    """(3,) a spot on the obi."""
    return np.array([math.cos(turn), math.sin(turn), 0.0])


def test_two_pins_by_hand() -> None:
    """N stands; A is set from it, B from N and A, a right angle apart.

    A is off by e1 along the line to N only.  B is off by e2 toward N and, its measure along the obi being
    square to A's shift, by e3 along the obi.
    """
    order = Order("", "", (Placing("N", ()), Placing("A", ("N",)), Placing("B", ("N", "A"))), {"N": N, "A": X})
    order.at["B"] = on_equator(math.pi / 2)
    told = spread(order)
    assert told.covariance("A", 0.5) == pytest.approx(np.diag([0.0, 0.25]))
    assert told.covariance("B", 0.5) == pytest.approx(np.diag([0.25, 0.25]))


@pytest.mark.parametrize("turn", [20.0, 50.0, 90.0, 130.0])
def test_two_measures_at_an_angle_give_the_textbook_covariance(turn: float) -> None:
    """From two fixed pins: trace = 2 sigma^2 / sin^2 of the angle the two measures make (position-line error)."""
    half, reach = math.radians(turn) / 2, 0.4
    pins = {name: np.array([math.cos(reach), math.sin(reach) * s, 0.0]) for name, s in (("A", 0.0), ("B", 0.0))}
    for name, sign in (("A", 1), ("B", -1)):
        away = np.array([0.0, math.sin(sign * half), math.cos(half)])
        pins[name] = math.cos(reach) * X + math.sin(reach) * away
    order = Order("", "", (Placing("A", ()), Placing("B", ()), Placing("P", ("A", "B"))), {**pins, "P": X})
    covariance = spread(order).covariance("P", 0.3)
    assert np.trace(covariance) == pytest.approx(2 * 0.3**2 / math.sin(math.radians(turn)) ** 2)


def test_a_chain_along_a_circle_grows_with_the_square_root_of_its_pins() -> None:
    """Each pin on the obi from N and from the one before: the obi errors of k steps add up as variances."""
    at = {"N": N, **{f"p{k}": on_equator(0.3 * k) for k in range(10)}}
    chain = [Placing(f"p{k}", ("N", f"p{k - 1}")) for k in range(1, 10)]
    told = spread(Order("", "", (Placing("N", ()), Placing("p0", ("N",)), *chain), at))
    along = [told.covariance(f"p{k}", 1.0)[0, 0] for k in range(10)]
    assert along == pytest.approx(list(range(10)))
    assert told.covariance("p9", 1.0)[1, 1] == pytest.approx(1.0)


def placed_at_random(order: Order, sigma: float, balls: int) -> dict[str, np.ndarray]:
    """Pins set one by one on ``balls`` unit balls until the real distances fit best, (balls, 3) each."""
    rng = np.random.default_rng(7)
    found: dict[str, np.ndarray] = {}
    for placing in order.placings:
        at = np.broadcast_to(order.at[placing.point], (balls, 3))
        known = np.stack([found[q] for q in placing.measured], axis=1) if placing.measured else np.zeros((balls, 0, 3))
        true = np.array([float(arc_angle(order.at[placing.point], order.at[q])) for q in placing.measured])
        wanted = true + sigma * rng.standard_normal((balls, len(true)))
        for _round in range(6 if len(true) else 0):  # Newton on the sphere itself
            ways = -toward(np.broadcast_to(at[:, None], known.shape), known)
            misses = arc_angle(np.broadcast_to(at[:, None], known.shape), known) - wanted
            at = unit(at - np.einsum("bij,bj->bi", np.linalg.pinv(ways, rcond=1e-6), misses))
        found[placing.point] = at
    return found


@pytest.mark.parametrize("name", ["from two neighbours", "from all neighbours", "from far pins"])
def test_propagation_agrees_with_simulated_placing(name: str) -> None:
    """1,500 balls: a measured variance has a standard error of sqrt(2/(m-1)) of itself; four of them are allowed."""
    order = next(order for order in orders(marked("C10")) if order.name == name)
    sigma, balls = 0.001, 1500
    told, found = spread(order), placed_at_random(order, sigma, balls)
    for pin in ("centre 4", "centre 8", "centre 11"):
        measured = np.cov(told.frame[pin] @ found[pin].T)
        expected = told.covariance(pin, sigma)
        assert np.diag(measured) == pytest.approx(np.diag(expected), rel=4 * math.sqrt(2 / (balls - 1)))


@pytest.mark.parametrize("division", ["S8+obi", "S5", "C4", "C6", "C8", "C10", "S8/S12", "C8/14"])
def test_every_order_places_every_pin_from_pins_that_are_in(division: str) -> None:
    for order in orders(marked(division)):
        placed: set[str] = set()
        for placing in order.placings:
            assert {*placing.measured, *(placing.on or ())} <= placed
            assert placing.point not in placed
            placed.add(placing.point)
        assert placed == set(order.at)


def test_no_pin_is_held_in_one_direction_only() -> None:
    """A pin straight between its two pins is held across by the line; only the second pin has a free way."""
    for division in ("S8", "C6", "C8", "C10", "42", "S8/S12"):
        for order in orders(marked(division)):
            told = spread(order)
            for placing in order.placings[3:]:
                held = np.linalg.eigvalsh(told.covariance(placing.point, 1.0))
                assert held.min() > 0.1, (division, order.name, placing)


def test_c10_from_s4_sets_its_pairs_at_the_exact_distance() -> None:
    """31.717474 degrees, 0.0881 of the way round, from each of six points (half of atan 2)."""
    order = next(order for order in orders(marked("C10")) if order.name == "from S4")
    pairs = [p for p in order.placings if p.on and p.point not in order.helps]
    assert len(order.helps) == 6
    gaps = [float(arc_angle(order.at[p.point], order.at[p.measured[0]])) for p in pairs]
    assert gaps == pytest.approx([math.atan(2) / 2] * 12)


def test_turning_the_whole_marking_is_no_error() -> None:
    """The judged shifts have no turn left in them: sum of x cross shift is nothing."""
    order = orders(marked("C6"))[1]
    told = spread(order)
    shifts = judged(order, told)
    twist = sum(np.cross(order.at[n], (told.frame[n].T @ shift).T).T for n, shift in shifts.items())
    assert np.abs(twist).max() < 1e-9
    assert sum(rms(s, 1.0) ** 2 for s in shifts.values()) < sum(rms(told.shift[n], 1.0) ** 2 for n in shifts)


@pytest.mark.parametrize("division", ["C6", "C8", "C10"])
def test_advice_is_ranked_and_grows_with_sigma(division: str) -> None:
    ranked, coarse = advice(marked(division), 0.5), advice(marked(division), 1.0)
    worst = [one.worst_mm for one in ranked]
    assert worst == sorted(worst)
    assert [one.order for one in ranked] == [one.order for one in coarse]
    assert [one.worst_mm for one in coarse] == pytest.approx([2 * mm for mm in worst])
    assert all(one.last_mm <= one.worst_mm + 1e-9 for one in ranked)
    assert ranked[0].order in advice_said(ranked, 0.5)


def test_easing_a_line_to_all_its_pins_is_never_worse() -> None:
    for division in ("C6", "C8", "C10"):
        by_order: dict[str, list[float]] = {}
        for one in advice(marked(division)):
            by_order.setdefault(one.order, []).append(one.crossings_mm or 0.0)
        assert all(len(both) == 2 for both in by_order.values())
        ranked = {(one.order, one.laying): one.crossings_mm or 0.0 for one in advice(marked(division))}
        for order in by_order:
            assert ranked[order, "eased to every pin it passes"] <= ranked[order, "from pin to pin"] + 1e-9
