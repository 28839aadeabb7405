"""Seats at a pair of poles and on the whole ball."""

import numpy as np
import pytest

from polestitch.ball.ball import Ball
from polestitch.document.design import Layer, Maker
from polestitch.marking.divisions import marked
from polestitch.sphere.arcs import arc_angle
from polestitch.stitching.seats import seats

BALL = Ball(250.0)


def _layer(where: str, direction: str = "right") -> Layer:
    layer = {"name": "one", "technique": "any", "where": where, "rows": "1 navy", "direction": direction}
    return Layer.model_validate(layer)


@pytest.mark.parametrize(("division", "where", "ways"), [("S10", "N", 10), ("S9", "N", 9), ("C8", "centre 2", 8)])
def test_a_pair_of_poles_has_every_line_from_one_to_the_other(division: str, where: str, ways: int) -> None:
    (seat,) = seats("poles", _layer(where), marked(division), BALL, Maker())
    assert seat.site.ways == ways
    assert seat.site.reaches == pytest.approx(np.pi / 2)
    marking = marked(division)
    spots = np.stack([point.at for point in marking.points])
    assert float(arc_angle(spots, -seat.middle).min()) < 1e-9  # a marked point lies opposite


@pytest.mark.parametrize("direction", ["right", "left"])
def test_the_whole_ball_knows_every_marked_point_in_its_frame(direction: str) -> None:
    marking = marked("C10")
    (seat,) = seats("ball", _layer("ball", direction), marking, BALL, Maker())
    assert np.linalg.det(seat.frame) == pytest.approx(1.0 if direction == "right" else -1.0)
    for name, point in marking.by_name.items():
        assert np.allclose(seat.frame @ seat.site.points[name], point.at)
