"""Circles a quarter of the ball away from any marked point: what offset bands follow."""

import numpy as np
import pytest

from polestitch.errors import DesignError
from polestitch.marking.circles import circles
from polestitch.marking.divisions import marked


def test_equators_of_the_triangles_are_the_hexagons_of_a_cuboctahedron() -> None:
    # The twelve edge middles of a cube are a cuboctahedron's corners; four equatorial hexagons pass six each and
    # every corner lies on two (Coxeter, Regular Polytopes, from memory).
    marking = marked("C8")
    found = {
        frozenset(stop.name for stop in circles(marking, f"equator of triangle {k}")[0].stops if "diamond" in stop.name)
        for k in range(1, 9)
    }
    assert sorted(len(hexagon) for hexagon in found) == [6, 6, 6, 6]
    assert [sum(f"diamond {k}" in hexagon for hexagon in found) for k in range(1, 13)] == [2] * 12


def test_an_equator_lies_a_quarter_away_from_its_point() -> None:
    marking = marked("C10")
    circle = circles(marking, "equator of diamond 3")[0]
    away = [float(stop.at @ marking.by_name["diamond 3"].at) for stop in circle.stops]
    assert np.allclose(away, 0.0, atol=1e-9)


def test_an_equator_of_nothing_is_refused() -> None:
    with pytest.raises(DesignError, match="no circle"):
        circles(marked("C8"), "equator of triangle 9")
