"""Polygons, outward and inward."""

import numpy as np
import pytest

from polestitch.document.lengths import Length
from polestitch.errors import DesignError
from polestitch.sphere.arcs import arc_angle
from polestitch.stitching.techniques.polygon import Params, stitch
from tests.stitching.sites import site

CENTRE = np.array([0, 0, 1.0])


def test_a_square_uses_every_second_of_eight_lines() -> None:
    seat = site("centre", 250.0, 8)
    (row,) = stitch(seat, Params(corners=4, at=Length("10 mm")), [0.01])
    assert row.spokes == (1, 3, 5, 7)


@pytest.mark.parametrize(("grow", "sign"), [("outward", 1), ("inward", -1)])
def test_each_row_steps_the_way_it_is_told(grow: str, sign: int) -> None:
    seat = site("centre", 250.0, 8)
    params = Params.model_validate({"corners": 4, "at": "20 mm", "grow": grow})
    one, two = stitch(seat, params, [0.01, 0.01])
    assert sign * (arc_angle(two.places[0], CENTRE) - arc_angle(one.places[0], CENTRE)) > 0


def test_square_sides_lie_one_thread_apart_at_the_corner() -> None:
    # Spherical geometry: distance of the new corner from the old side's great circle.
    seat = site("centre", 250.0, 4, settings=(2.0, 1e-6))
    one, two = stitch(seat, Params(corners=4, at=Length("20 mm")), [0.01, 0.01])
    side = np.cross(one.places[0], one.places[1])
    side /= np.linalg.norm(side)
    assert abs(np.arcsin(side @ two.places[0])) == pytest.approx(0.01, rel=1e-9)


def test_corners_that_do_not_divide_the_lines_are_refused_with_those_that_would() -> None:
    with pytest.raises(DesignError, match="5 do not divide the 8 lines here; 4, 8 would"):
        list(stitch(site("centre", 250.0, 8), Params(corners=5), [0.01]))


def test_a_start_off_the_guideline_is_refused_with_its_length() -> None:
    with pytest.raises(DesignError, match=r"off the guideline, which is 62\.5 mm long"):
        list(stitch(site("centre", 250.0, 8), Params(at=Length("70 mm from edge")), [0.01]))


def test_half_a_line_turns_a_pentagon_by_eighteen_degrees_of_ten_lines() -> None:
    here = site("centre", 250.0, 10)
    plain, offset = (
        next(iter(stitch(here, Params.model_validate({"corners": 5, "turn": turn}), [0.01])))
        for turn in ("on the lines", "half a line")
    )
    turned = np.degrees(np.arctan2(offset.places[:, 1], offset.places[:, 0]))
    assert (turned - np.degrees(np.arctan2(plain.places[:, 1], plain.places[:, 0]))) % 360 == pytest.approx(18)


@pytest.mark.parametrize(("grow", "way"), [("outward", 1), ("inward", -1)])
def test_concentric_figures_leave_the_gap_asked(grow: str, way: int) -> None:
    here = site("centre", 250.0, 8)
    params = Params.model_validate({"rows_each": 2, "apart": "5 mm", "at": "30 mm", "grow": grow})
    rows = list(stitch(here, params, [0.01] * 6))
    corner = np.array([float(np.arccos(row.places[0, 2])) for row in rows]) * here.ball.radius_mm
    assert np.diff(corner)[1::2] == pytest.approx(5.0 * way)
    assert [row.strand for row in rows] == [0, 0, 1, 1, 2, 2]
    assert [row.number for row in rows] == [row.plan + 1 for row in rows] == [1, 2, 3, 4, 5, 6]
