"""Charts against pyproj, coloraide and the ball they show."""

import math
from itertools import pairwise
from typing import Any

import numpy as np
import pytest
from coloraide import Color
from hypothesis import given
from hypothesis import strategies as st
from numpy.typing import NDArray
from pyproj import Proj

from polestitch.pipeline import Build
from polestitch.sheets.chart import chart
from polestitch.sheets.chart_view import view_of
from polestitch.sheets.curves import Curve, curve_of, paths, shown, without
from polestitch.sheets.inks import lightness, row_ink
from polestitch.sheets.lenses import FlatLens, GlobeLens, RolledLens, scale_for
from polestitch.sheets.sheet import INK, Circle, Mark, Path, Pen, Text
from polestitch.sheets.threads import motif_arcs, threads
from polestitch.sheets.views import motif_chart, unlike_motifs
from tests.builds import KIKU, SQUARE, built

R = 40.0  # mm: a ball about 25 cm round
ON_THE_LINE = 0.01  # mm between a drawn curve and the true one
COLOURS = st.integers(0, 0xFFFFFF).map(lambda n: f"#{n:06x}")
STAR = {"technique": "star", "where": "N", "rows": "1 navy"}
SPINDLE = {"technique": "spindle", "where": "line 1", "rows": "4 navy"}
BAND = {"technique": "band", "where": "obi", "rows": "2 navy, 1 white"}
ZIGZAG = {"technique": "zigzag", "where": "obi", "rows": "1 navy"}


def on_ball(latitude: NDArray[np.float64], longitude: NDArray[np.float64]) -> NDArray[np.float64]:
    phi, lam = np.radians(latitude), np.radians(longitude)
    return np.stack([np.cos(phi) * np.cos(lam), np.cos(phi) * np.sin(lam), np.sin(phi)], axis=-1)


def bezier(path: Path, each: int = 12) -> NDArray[np.float64]:
    """Points along a path."""
    t = np.linspace(0, 1, each)[:, None]
    points, at = [], np.array(path.start)
    for piece in path.pieces:
        handles = [at, *np.array(piece).reshape(-1, 2)]
        if len(handles) == 2:
            points.append((1 - t) * handles[0] + t * handles[1])
        else:
            a, b, c, d = handles
            points.append((1 - t) ** 3 * a + 3 * t * (1 - t) ** 2 * b + 3 * t**2 * (1 - t) * c + t**3 * d)
        at = handles[-1]
    return np.concatenate(points)


def texts(marks: tuple[Mark, ...]) -> dict[str, Text]:
    return {mark.text: mark for mark in marks if isinstance(mark, Text)}


@given(st.floats(-80, 80), st.floats(-180, 180), st.integers(0, 10_000))
def test_a_flat_chart_is_the_azimuthal_equidistant_projection_of_pyproj(lat: float, lon: float, seed: int) -> None:
    rng = np.random.default_rng(seed)
    latitude, longitude = rng.uniform(-89, 89, 20), rng.uniform(-180, 180, 20)
    (middle,) = on_ball(np.array([lat]), np.array([lon]))
    points = on_ball(latitude, longitude)
    near = points @ middle > -0.98
    lens = FlatLens(middle, np.array([0.0, 0.0, 1.0]), R, math.pi)
    x, y = Proj(f"+proj=aeqd +R={R} +lat_0={lat} +lon_0={lon}")(longitude[near], latitude[near])
    assert lens.paper(points[near]) == pytest.approx(np.stack([x, -np.array(y)], axis=-1), abs=1e-6)


@given(st.floats(-80, 80), st.floats(-180, 180))
def test_the_globe_is_the_orthographic_projection_of_pyproj(lat: float, lon: float) -> None:
    latitude, longitude = np.array([lat / 2, lat]), np.array([lon + 20, lon - 35])
    (middle,) = on_ball(np.array([lat]), np.array([lon]))
    x, y = Proj(f"+proj=ortho +R={R} +lat_0={lat} +lon_0={lon}")(longitude, latitude)
    lens = GlobeLens(middle, np.array([0.0, 0.0, 1.0]), R)
    assert lens.paper(on_ball(latitude, longitude)) == pytest.approx(np.stack([x, -np.array(y)], axis=-1), abs=1e-6)


def test_an_unrolled_circle_is_as_long_as_the_circle() -> None:
    lens = RolledLens(np.array([0.0, 0.0, 1.0]), np.array([1.0, 0.0, 0.0]), R, 2.0, 0.3)
    found = lens.paper(on_ball(np.array([0.0, 10.0]), np.array([90.0, -45.0])))
    assert found == pytest.approx(R * np.array([[math.pi / 2, 0.0], [-math.pi / 4, -math.radians(10)]]))


@pytest.mark.slow
@given(st.integers(0, 10_000), st.floats(0.2, 6.0), st.floats(-0.6, 0.6))
def test_a_drawn_curve_keeps_to_the_line_it_draws(seed: int, sweep: float, offset: float) -> None:
    rng = np.random.default_rng(seed)
    normal = rng.normal(size=3)
    normal /= np.linalg.norm(normal)
    across = np.cross(normal, rng.normal(size=3))
    start = offset * normal + math.sqrt(1 - offset**2) * across / np.linalg.norm(across)
    curve = Curve(normal, offset, start, sweep)
    lens = FlatLens(np.array([0.0, 0.0, 1.0]), np.array([1.0, 0.0, 0.0]), R, 1.6)
    line = lens.paper(curve.at(np.linspace(0, sweep, 20_000)))
    for path in paths(curve, lens, Pen()):
        for spot in bezier(path, 5):
            assert np.hypot(*(line - spot).T).min() < ON_THE_LINE


def test_a_curve_is_cut_where_it_leaves_the_picture() -> None:
    lens = FlatLens(np.array([0.0, 0.0, 1.0]), np.array([1.0, 0.0, 0.0]), R, math.radians(30))
    circle = Curve(np.array([0.0, 1.0, 0.0]), 0.0, np.array([0.0, 0.0, 1.0]), 2 * math.pi)
    found = shown(circle, lens)
    assert np.degrees(found) == pytest.approx(np.array([[0.0, 30.0], [330.0, 360.0]]))


def test_gaps_are_taken_out_of_what_is_shown() -> None:
    assert without([(0.0, 1.0)], [(0.2, 0.3), (0.9, 1.2)]) == [(0.0, 0.2), (0.3, 0.9)]
    assert without([(0.0, 1.0)], [(-1.0, 2.0)]) == []


@pytest.mark.parametrize("layer", [STAR, KIKU | {"rows": "2 navy"}])
def test_at_every_crossing_the_thread_below_stops_short_and_the_one_above_goes_on(layer: dict[str, Any]) -> None:
    made = built(layer, division="S10")
    (motif,) = made.motifs
    view = view_of(made, motif)
    lines = [bezier(mark, 60) for mark in threads(made, motif, view.lens, view.lens.mm).marks if isinstance(mark, Path)]
    at = view.lens.paper(made.crossings.point)
    assert len(at) >= 5
    for spot in at:
        near = [float(np.hypot(*(line - spot).T).min()) for line in lines]
        assert sum(distance < 0.12 for distance in near) == 1


@given(COLOURS)
def test_later_rows_are_paler_whatever_the_colour(colour: str) -> None:
    inks = [lightness(row_ink(colour, share)) for share in (0.0, 0.25, 0.5, 0.75, 1.0)]
    assert all(b > a + 0.05 for a, b in pairwise(inks))
    assert inks[0] < 0.4


@given(COLOURS)
def test_lightness_is_that_of_coloraide(colour: str) -> None:
    assert lightness(colour) == pytest.approx(Color(colour).convert("oklab")["l"], abs=1e-4)


@pytest.mark.parametrize(
    ("size", "room", "scale"), [(62.5, 63.0, 1), (31.0, 63.0, 2), (20.0, 63.0, 3), (100.0, 63.0, 0.5)]
)
def test_the_scale_is_the_largest_handy_one(size: float, room: float, scale: float) -> None:
    assert scale_for(size, room) == scale


def ladder_ticks(made: Build) -> dict[str, tuple[float, str]]:
    """Name of each rung to where its words stand below the middle's, and its figures."""
    found = [mark for mark in chart(made, made.motifs[0]).marks if isinstance(mark, Text)]
    names = [k for k, mark in enumerate(found) if " · " in (found[k + 1].text if k + 1 < len(found) else "")]
    return {found[k].text: (found[k].y, found[k + 1].text) for k in names}


def test_the_ladder_tells_how_far_from_the_pole_the_first_and_last_bites_are() -> None:
    # 250 mm round, outer tips half way down the quarter of 62.5 mm, inner bites 8 mm from the pole.
    rungs = ladder_ticks(built(KIKU))
    assert rungs["outer tip, row 1"][1].startswith("31.2 mm · 0.125 C")
    assert rungs["inner bite, row 1"][1].startswith("8.0 mm · 0.032 C")
    assert "outer tip, row 3" in rungs


def order(made: Build) -> dict[str, tuple[float, float]]:
    """Where the numbers of the stitch order stand, from the chart's middle."""
    marks = chart(made, made.motifs[0]).marks
    rim = max((mark for mark in marks if isinstance(mark, Circle)), key=lambda circle: circle.radius)
    found = [mark for mark in marks if isinstance(mark, Text) and mark.face == "sans bold" and mark.text.isdigit()]
    spots = {mark.text: (mark.x - rim.x, mark.y - rim.y) for mark in reversed(found) if mark.colour == INK}
    return {text: spot for text, spot in spots.items() if math.hypot(*spot) < rim.radius}


@pytest.mark.parametrize("layer", [KIKU, STAR])
def test_the_first_bites_are_numbered_in_the_order_they_are_stitched(layer: dict[str, Any]) -> None:
    made = built(layer, division="S10")
    (motif,) = made.motifs
    places = view_of(made, motif).lens.paper(motif.rows[0].places @ motif.frame.T)
    found = order(made)
    for number, place in enumerate(places, 1):
        spot = np.array(found[str(number)])
        cosine = float(spot @ place) / float(np.hypot(*spot) * np.hypot(*place))
        assert cosine > math.cos(math.radians(4))  # on the bite's own guideline


def _turn(made: Build) -> float:
    """The way round from bite 1 to bite 2 on paper: positive is clockwise, since y runs down."""
    row, view = made.motifs[0].rows[0], view_of(made, made.motifs[0])
    (ax, ay), (bx, by) = view.lens.paper(row.places[:2] @ made.motifs[0].frame.T)
    return float(ax * by - ay * bx)


def test_a_left_hander_s_chart_runs_the_other_way_round() -> None:
    right, left = built(KIKU), built(KIKU, maker={"hand": "left", "stretch": "2 mm", "bite": "1.5 mm"})
    # Seen from outside with N up a right-hander travels to the right: against the clock on paper.
    assert _turn(right) < 0 < _turn(left)
    one, other = order(right), order(left)
    assert one.keys() == other.keys()
    for number, (x, y) in one.items():
        assert other[number] == pytest.approx((-x, y), abs=0.3)


def test_a_simple_division_s_outer_circle_is_the_obi_at_true_size() -> None:
    made = built(KIKU)
    marks = chart(made, made.motifs[0]).marks
    assert max(mark.radius for mark in marks if isinstance(mark, Circle)) == pytest.approx(250 / 4)
    assert "Outer circle: obi" in texts(marks)


def test_a_combination_s_outer_circle_is_the_edge_of_the_face() -> None:
    made = built(SQUARE | {"params": {"corners": 4, "at": "10 mm"}}, division="C8")
    # Coxeter: a cube's face centre and corner are 54.7356 degrees apart.
    edge = 250 * 54.7356 / 360
    assert f"Outer circle: face edge, {edge:.1f} mm from N" in texts(chart(made, made.motifs[0]).marks)


@pytest.mark.parametrize("layer", [KIKU, SQUARE, SPINDLE, BAND, ZIGZAG])
def test_every_row_of_a_motif_is_on_its_chart(layer: dict[str, Any]) -> None:
    made = built(layer)
    motif = made.motifs[0]
    block = motif_chart(made, motif)
    drawn = {mark.pen.colour for mark in block.marks if isinstance(mark, Path) and mark.pen is not None}
    count = max(row.number for row in motif.rows)
    for row, thread in zip(motif.rows, motif.threads):
        assert row_ink(str(made.design.threads[thread].colour), (row.number - 1) / max(count - 1, 1)) in drawn
    assert block.height < 150


def test_places_that_are_alike_share_one_chart() -> None:
    both = built(KIKU | {"where": ["N", "S"]})
    assert [motif.place for motif in unlike_motifs(both, 0)] == ["N"]


def test_a_motif_s_arcs_are_its_own() -> None:
    both = built(KIKU | {"where": ["N", "S"]})
    north = motif_arcs(both, both.motifs[0])
    heights = [curve_of(both.laid, int(arc)).at(np.array([0.0]))[0, 2] for arc in north]
    assert min(heights) > 0


def test_the_ladder_of_a_spindle_names_the_end_of_its_line_not_the_chart_s_rim() -> None:
    spindle = {"technique": "spindle", "where": "N to obi 1", "rows": "3 navy", "params": {"at": "22 mm from centre"}}
    made = built(spindle)
    rungs = ladder_ticks(made)
    # Half of the quarter from N to the obi on a ball 250 mm round.
    assert rungs["end of the line"][1] == "31.2 mm · 0.125 C"
    assert not [name for name in rungs if "from the middle" in name]


def test_the_ladder_calls_a_star_s_corners_points_as_the_steps_do() -> None:
    star = {"technique": "star", "where": "N", "rows": "3 navy"}
    assert {"point, row 1", "point, row 3"} <= set(ladder_ticks(built(star, division="C10")))
