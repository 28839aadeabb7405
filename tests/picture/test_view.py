"""The view, against published and library projections."""

import numpy as np
import pytest
from pyproj import Proj

from polestitch.picture.view import view_of
from polestitch.sphere.arcs import Points

from .subjects import X, Z


def place(latitude: float, longitude: float) -> Points:
    lat, lon = np.radians(latitude), np.radians(longitude)
    return np.array([np.cos(lat) * np.cos(lon), np.cos(lat) * np.sin(lon), np.sin(lat)])


def test_snyders_orthographic_example() -> None:
    # Snyder, Map Projections: A Working Manual, USGS Professional Paper 1395 (1987), orthographic, R = 1,
    # centre 40 N 100 W, point 30 N 110 W (page from memory; the digits agree with PROJ).
    x, y, depth = view_of(place(40, -100)).seen(place(30, -110))
    assert (x, y) == pytest.approx((-0.1503837, -0.1651911), abs=5e-8)
    assert depth > 0


def test_any_view_agrees_with_proj() -> None:
    chance = np.random.default_rng(8)
    for lat0, lon0 in ((12.0, 34.0), (-55.0, 160.0)):
        proj = Proj(proj="ortho", R=1, lat_0=lat0, lon_0=lon0)
        lat, lon = lat0 + chance.uniform(-30, 30, 20), lon0 + chance.uniform(-30, 30, 20)
        seen = np.array([view_of(place(lat0, lon0)).seen(place(*spot)) for spot in zip(lat, lon)])
        assert seen[:, :2] == pytest.approx(np.array(proj(lon, lat)).T, abs=1e-9)


@pytest.mark.parametrize("pole", [Z, -Z])
def test_line_1_runs_straight_down_from_a_pole(pole: Points) -> None:
    x, y, _ = view_of(pole).seen(X)
    assert (x, y) == pytest.approx((0, -1))


def test_the_middle_of_the_picture_is_what_it_faces() -> None:
    at = place(20, 70)
    assert view_of(at).seen(at) == pytest.approx([0, 0, 1])
