"""Threads over lines that end at points: against Euler's count and networkx."""

from itertools import pairwise

import networkx as nx
import pytest

from polestitch.ball.ball import Ball
from polestitch.marking.divisions import marked
from polestitch.marking.pins import pin_plan
from polestitch.marking.route import thread_route
from polestitch.marking.trails import trails
from polestitch.sphere.arcs import arc_angle

WORDS = ["42", "42 perfect", "C6/4", "C6/8", "C8/14", "C10/72 perfect", "S8/S16", "S5/S7", "S2/S3"]


@pytest.mark.parametrize("word", WORDS)
def test_every_line_is_laid_once_in_as_few_threads_as_euler_allows(word: str) -> None:
    marking = marked(word)
    net = nx.Graph((name, spoke.end) for name, spokes in marking.spokes.items() for spoke in spokes)
    odd = sum(degree % 2 for _, degree in net.degree)
    found = trails(marking)
    laid = [frozenset(step) for trail in found for step in pairwise(trail)]
    assert len(laid) == len(set(laid)) == net.number_of_edges()
    assert set(laid) == {frozenset(edge) for edge in net.edges}
    assert len(found) == max(1, odd // 2)
    assert nx.is_connected(net)


@pytest.mark.parametrize("word", WORDS)
def test_thread_is_as_long_as_the_lines_and_its_ends(word: str) -> None:
    marking, ball = marked(word), Ball(300)
    laid = ball.mm(sum(line.sweep for line in marking.guidelines))
    route = thread_route(marking, ball, 40.0)
    assert route.laid_mm == pytest.approx(laid)
    assert route.mm == pytest.approx(laid + 80.0 * len(route.pieces))


def test_thread_goes_straight_on_where_lines_cross() -> None:
    """In the 42 every hexagon is passed from corner to opposite corner, never with a sharp turn."""
    marking = marked("42")
    turned = 0
    for trail in trails(marking):
        for before, here, after in zip(trail, trail[1:], trail[2:], strict=False):
            ways = {spoke.end: spoke.direction for spoke in marking.spokes[here]}
            turned += here.startswith("face") and float(ways[before] @ ways[after]) > -0.9
    assert turned <= 30  # joining closed trails turns once into each and once out of it


@pytest.mark.parametrize("word", ["42", "C6/4", "C6/8", "C8/14", "C10/72", "C10/32 equalised", "C10/162"])
def test_pins_of_a_net_are_measured_from_pins_that_are_in(word: str) -> None:
    marking, ball = marked(word), Ball(300)
    placed: set[str] = set()
    for pin in pin_plan(marking, ball):
        for told in (*pin.measured, *pin.check):
            gap = ball.mm(float(arc_angle(marking.by_name[pin.point].at, marking.by_name[told.point].at)))
            assert told.point in placed
            assert told.mm == pytest.approx(gap)
        assert len(pin.measured) + bool(pin.on) >= min(2, len(placed))
        placed.add(pin.point)
    assert {corner.name for corner in marking.of_kind("corner")} <= placed
    assert {centre.name for centre in marking.of_kind("centre")} <= placed


def test_pins_follow_the_makers_halves_thirds_and_rule() -> None:
    plan = {pin.point: pin for pin in pin_plan(marked("42"), Ball(300))}
    ring = plan["centre 2"].measured[0]
    assert ring.point == "N"
    assert ring.rule_mm == pytest.approx(300 / 6 + 300 / 100)
    halves = [pin for pin in plan.values() if pin.measured and pin.measured[0].recipe.startswith("1/2 of the way")]
    assert len(halves) == 60
    thirds = [p for p in pin_plan(marked("C10/32"), Ball(300)) if p.on and "1/3 of the way" in p.measured[0].recipe]
    assert len(thirds) == 60
    assert all(pin.measured[0].mm * 2 == pytest.approx(pin.check[0].mm) for pin in thirds)
