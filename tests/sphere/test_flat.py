import math

import numpy as np
import pyproj
import pytest
from hypothesis import given
from hypothesis import strategies as st

from polestitch.sphere import flat
from polestitch.sphere.arcs import Points

ROUNDING = 1e-9


def lat_lon(latitude: float | Points, longitude: float | Points) -> Points:
    lat, lon = np.radians(latitude), np.radians(longitude)
    return np.stack([np.cos(lat) * np.cos(lon), np.cos(lat) * np.sin(lon), np.sin(lat) * np.ones_like(lon)], axis=-1)


NORTH = np.array([0.0, 0.0, 1.0])
FRAME = flat.facing(lat_lon(40.0, -100.0), NORTH)
rng = np.random.default_rng(5)
WORLD = np.degrees(np.stack([np.arcsin(rng.uniform(-1, 1, 400)), rng.uniform(-math.pi, math.pi, 400)]))


def test_snyder_s_example_of_the_azimuthal_equidistant() -> None:
    # Snyder, USGS PP 1395 (1987), numerical example; seen at neacsu.net/docs/geodesy/snyder/numerics/aeqd.
    xy = 3 * flat.equidistant(FRAME, lat_lon(-20.0, 100.0))
    assert xy == pytest.approx([-5.8311398, 5.5444634], abs=1e-7)
    assert flat.from_equidistant(FRAME, xy / 3) == pytest.approx(lat_lon(-20.0, 100.0), abs=ROUNDING)


def test_snyder_s_example_of_the_orthographic() -> None:
    # Snyder's numerical example, x and y from memory of the page; pyproj gives the same.
    assert flat.orthographic(FRAME, lat_lon(30.0, -110.0)) == pytest.approx([-0.1503837, -0.1651911], abs=1e-7)


@pytest.mark.parametrize("name", ["aeqd", "ortho", "gnom"])
def test_charts_agree_with_pyproj(name: str) -> None:
    forward = {"aeqd": flat.equidistant, "ortho": flat.orthographic, "gnom": flat.gnomonic}[name]
    back = {"aeqd": flat.from_equidistant, "ortho": flat.from_orthographic, "gnom": flat.from_gnomonic}[name]
    points = lat_lon(*WORLD)
    near = flat.depth(FRAME, points) > (0.05 if name != "aeqd" else -2)
    proj = pyproj.Proj(f"+proj={name} +R=1 +lat_0=40 +lon_0=-100")
    theirs = np.stack(proj(WORLD[1][near], WORLD[0][near]), axis=-1)
    ours = forward(FRAME, points[near])
    assert ours == pytest.approx(theirs, abs=ROUNDING)
    assert back(FRAME, ours) == pytest.approx(points[near], abs=1e-8)


def test_behind_the_paper_nothing_is_drawn_straight() -> None:
    points = np.array([-FRAME[2], FRAME[0]])
    assert np.isnan(flat.gnomonic(FRAME, points)).all()
    assert np.isnan(flat.from_orthographic(FRAME, np.array([2.0, 0.0]))).all()


def test_the_middle_lies_in_the_middle_and_the_point_opposite_on_the_rim() -> None:
    xy = flat.equidistant(FRAME, np.array([FRAME[2], -FRAME[2]]))
    assert np.hypot(*xy.T) == pytest.approx([0, math.pi])


@given(st.floats(-80, 80), st.floats(-180, 180), st.floats(0, 2 * math.pi), st.floats(1e-6, 3))
def test_a_distance_from_the_middle_is_true_on_the_equidistant_chart(
    latitude: float, longitude: float, turn: float, far: float
) -> None:
    frame = flat.facing(lat_lon(latitude, longitude), NORTH)
    drawn = far * np.array([math.cos(turn), math.sin(turn)])
    point = flat.from_equidistant(frame, drawn)
    assert math.acos(np.clip(point @ frame[2], -1, 1)) == pytest.approx(far, abs=1e-7)
    assert flat.equidistant(frame, point) == pytest.approx(drawn, abs=1e-8)


def test_the_frame_is_seen_from_outside_with_n_up() -> None:
    frame = flat.facing(lat_lon(0.0, 0.0), NORTH)
    assert flat.orthographic(frame, lat_lon(0.0, 30.0))[0] == pytest.approx(0.5)
    assert flat.orthographic(frame, lat_lon(30.0, 0.0))[1] == pytest.approx(0.5)
    assert np.linalg.det(frame) == pytest.approx(1)
