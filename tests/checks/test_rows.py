"""Rows that gape, threads that pile up."""

from math import cos, degrees, radians, tan

import numpy as np
import pytest
from geographiclib.geodesic import Geodesic
from hypothesis import given
from hypothesis import strategies as st

from polestitch.checks.rows import GAPING_NOTE, PILED_NOTE, mid_span_gap
from tests.builds import KIKU
from tests.checks.found import built, of_kind, one_of

A_MICRORADIAN = 1e-6


@given(span=st.floats(5, 150), width=st.floats(0.2, 3))
def test_the_gap_in_mid_span_is_that_of_two_geodesics(span: float, width: float) -> None:
    # GeographicLib on a unit sphere: two geodesics over `span` degrees whose ends lie `width` degrees apart;
    # the lower one runs on the equator, so the gap is the other's latitude half way.
    sphere = Geodesic(1, 0)
    line = sphere.InverseLine(width, -span / 2, width, span / 2)
    middle = line.Position(line.s13 / 2)["lat2"]
    gap = float(mid_span_gap(np.asarray(radians(width)), np.asarray(radians(span))))
    assert gap == pytest.approx(radians(middle), abs=A_MICRORADIAN)


@pytest.mark.parametrize(("span", "wider"), [(36, 0.05), (49, 0.10), (90, 0.41), (120, 1.00)])
def test_the_known_figures_of_the_drift(span: float, wider: float) -> None:
    # Worked out by hand from tan g = tan w / cos(L / 2) for narrow rows: 1 / cos(L / 2) - 1.
    gap = float(mid_span_gap(np.asarray(0.01), np.asarray(radians(span))))
    assert gap / 0.01 - 1 == pytest.approx(wider, abs=0.006)


def test_a_large_triangle_gapes_and_says_how_much_ground_shows() -> None:
    triangle = {"technique": "polygon", "where": "N", "rows": "4 navy", "params": {"corners": 3, "at": "50 mm"}}
    made = built(triangle, division="S6")
    finding = one_of(made, "mid-span gap")
    row = made.motifs[0].rows[-1]
    span = float(np.arccos(row.places[0] @ row.places[1]))
    bare = made.ball.mm(np.arctan(tan(row.pitch) / cos(span / 2)) - row.pitch)
    assert f"{bare:.1f} mm" in finding.sentence
    assert degrees(span) > 73  # where 1 / cos(L / 2) passes the limit of 1.25
    assert 1 / cos(span / 2) > GAPING_NOTE


def test_short_spans_and_leaning_tips_do_not_gape() -> None:
    square = {"technique": "polygon", "where": "N", "rows": "4 navy", "params": {"corners": 4, "at": "15 mm"}}
    assert not of_kind(built(square), "mid-span gap")
    assert not of_kind(built(KIKU), "mid-span gap")


def test_many_threads_on_one_spot_are_a_build_up_named_by_its_nearest_point() -> None:
    heap = [{"technique": "star", "where": "N", "rows": "3 navy", "params": {"points": 16, "step": 7, "at": "30 mm"}}]
    made = built(*(heap * 4), division="S16")
    finding = one_of(made, "build-up")
    assert made.cover.buildup_max > PILED_NOTE
    assert str(made.cover.buildup_max) in finding.sentence
    assert finding.address == "N"


def test_a_plain_kiku_does_not_pile_up() -> None:
    assert not of_kind(built(KIKU), "build-up")


def test_a_long_spindle_gapes_between_its_first_tips() -> None:
    # Two great circles a thread apart at both ends of 90 degrees lie 41 % further apart in the middle
    # (right spherical triangles; the drift is also held against GeographicLib above).
    made = built({"technique": "spindle", "where": "odd lines", "rows": "4 navy", "params": {"at": "1/2 from edge"}})
    assert "in mid-span" in one_of(made, "mid-span gap").sentence
