"""Thread and time, held against published amounts, a geodesic library and the laws of thrift."""

from dataclasses import replace
from math import pi
from typing import Any

import numpy as np
import pytest
from geographiclib.geodesic import Geodesic
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from scipy.spatial.transform import Rotation

from polestitch.document.design import Thread
from polestitch.document.lengths import Length
from polestitch.estimate import Estimate, MarkingThread, estimate
from polestitch.estimate.amounts import skeins
from polestitch.pipeline import Build
from tests.builds import BAND, KIKU, SQUARE, THREADS, besides, built, document, estimated, marking_of

A_MICROMETRE = 1e-3  # mm
PER_MILLION = 1e-6
few = settings(max_examples=10, deadline=None, suppress_health_check=[HealthCheck.too_slow])


def amount(made: Build, name: str = "navy") -> Any:
    return next(one for one in estimated(made).threads if one.name == name)


def degrees(point: np.ndarray) -> tuple[float, float]:
    return float(np.degrees(np.arcsin(point[2]))), float(np.degrees(np.arctan2(point[1], point[0])))


def test_thread_on_the_surface_is_the_geodesics_between_bites() -> None:
    # GeographicLib on a sphere of the ball's radius: an independent library for geodesics.
    made = built({**SQUARE, "rows": "1 navy"})
    motif = made.motifs[0]
    row = motif.rows[0]
    sphere = Geodesic(made.ball.radius_mm, 0)
    leaves, enters = row.leaves @ motif.frame.T, np.roll(row.enters, -1, axis=0) @ motif.frame.T
    expected = sum(sphere.Inverse(*degrees(a), *degrees(b))["s12"] for a, b in zip(leaves, enters))
    assert amount(made).laid_mm == pytest.approx(expected, abs=A_MICROMETRE)


def test_a_ball_covered_in_a_single_layer_takes_28_metres_at_25_cm() -> None:
    # C^2 / (pi p): 28 m of size 5 (p = 0.71 mm) for 25 cm, worked out from the published thread width
    # of temarikai.com/ResourcesPages/threadgauges.html.  Turns stop 3 degrees short of their poles.
    made = built({"technique": "band", "where": "obi", "rows": "82 navy"})
    pitch = 10 / 14
    reach = np.sin(82 * pitch / made.ball.radius_mm)
    laid = amount(made).laid_mm
    assert laid == pytest.approx(250**2 / (pi * pitch) * reach, rel=1e-4)
    assert laid / reach == pytest.approx(28_000, abs=500)


def test_one_row_takes_its_spans_its_bites_and_two_ends() -> None:
    # Four bites 1.5 mm wide and 1 mm deep: 2 hypot(0.75, 1) = 2.5 mm each; ends 2 x 40 mm.
    one = amount(built({**SQUARE, "rows": "1 navy"}))
    assert one.total_mm - one.laid_mm == pytest.approx(4 * 2.5 + 80, abs=A_MICROMETRE)
    assert (one.lengths, one.bites) == (1, 4)


def test_a_skein_is_25_yards() -> None:
    # Published put-up: japanesetemari.com/Kyo/Kyo-1.1.html; the yard is 0.9144 m by definition (1959).
    thread = Thread.model_validate({"name": "navy", "colour": "#000", "size": "pearl 5"})
    assert [skeins(thread, mm) for mm in (0, 22_860, 22_861, 100_000)] == [0, 1, 2, 5]
    assert skeins(thread.model_copy(update={"skein": Length("30 m")}), 61_000) == 3
    assert skeins(thread.model_copy(update={"size": "pearl 8"}), 1000) is None


@pytest.mark.parametrize(
    "layer", [KIKU, {**SQUARE, "rows": "12 navy"}, {**KIKU, "where": "N and S", "combine": "layered"}]
)
def test_pieces_follow_on_and_none_is_longer_than_a_working_length(layer: dict[str, Any]) -> None:
    made = built({**layer, "rows": "9 navy"})
    one = amount(made)
    assert len(one.pieces) > 1
    assert all(piece.mm <= 1000 + A_MICROMETRE for piece in one.pieces)
    row_bites = {k: len(made.motifs[0].rows[0].half) for k in range(len(made.laid.row_layer))}
    for before, after in zip(one.pieces, one.pieces[1:]):
        assert before.end == after.start or (before.end.bite == row_bites[before.end.row] and after.start.bite == 0)
    assert one.total_mm >= sum(piece.mm for piece in one.pieces) - A_MICROMETRE
    assert one.total_mm <= one.lengths * 1000


def test_joins_fall_at_the_ends_of_rows_where_rows_are_short() -> None:
    made = built({**SQUARE, "rows": "20 navy", "params": {"corners": 4, "at": "5 mm"}})
    bites = [piece.end.bite for piece in amount(made).pieces]
    assert len(bites) > 1
    assert set(bites) == {4}


def test_a_band_is_wound_uncut_one_piece_for_each_stretch_of_colour() -> None:
    made = built({**BAND, "rows": "3 navy, 1 white"})
    assert amount(made).lengths == amount(made, "white").lengths == 1
    # navy is wound, waits for white on the first side, starts anew on the second: one end and one start more
    run = amount(made).total_mm - amount(made).laid_mm
    assert 4 * 40 <= run < 4 * 40 + 10


def test_marking_thread_is_counted_with_its_colour() -> None:
    made = built(SQUARE, marking={"division": "S8+obi", "thread": "white"})
    marking = MarkingThread(1234.0, 2, 9, 10)
    with_it, without = estimated(made, marking), estimated(made)
    assert with_it.needed_mm["white"] - without.needed_mm["white"] == pytest.approx(1234.0)
    assert with_it.threads[1].laid_mm == 0
    assert with_it.threads[1].lengths == 2


def test_threads_over_others_are_longer_by_their_height() -> None:
    # A thread 0.71 mm up on a 39.8 mm radius is 1.8 % longer; a full single layer below lifts the next by that.
    made = built(
        {"technique": "band", "where": "obi", "rows": "82 navy"},
        {**BAND, "rows": "1 white", "params": {"side": "left"}},
    )
    white = amount(made, "white")
    assert (white.total_mm - 80) / white.laid_mm - 1 == pytest.approx(10 / 14 / made.ball.radius_mm, rel=0.05)


def test_threads_that_rest_on_their_own_needles_take_less() -> None:
    colours = {**KIKU, "rows": "4 x (1 navy, 1 white)"}
    one_needle = built(colours)
    each = built(colours, maker={"needles": "one a colour", "stretch": "2 mm"})
    assert (
        estimated(each).needed_mm["navy"] < estimated(one_needle).needed_mm["navy"] - 3 * 75
    )  # three changes of colour


def test_a_novices_simple_ball_takes_three_to_four_hours() -> None:
    # Published: gksagenda.blogspot.com/2011/12/my-one-handmade-gift.html: a simple division, a kiku each pole, an obi.
    kiku: dict[str, Any] = {**KIKU, "where": "N and S", "rows": "3 navy, 2 white, 1 navy"}
    second = {**kiku, "params": {"outer": "1/2 from obi", "inner": "8 mm", "set": 2}}
    made = built(kiku, second, {**BAND, "rows": "3 navy"})
    hours = estimated(made, marking_of(made)).hours
    assert hours.low <= 3
    assert hours.high >= 4


def test_an_all_over_c8_takes_about_twelve_hours() -> None:
    # Published: about 12 h over a week for an all-over interlocking C8 with its base, a first attempt.
    squares = {
        "technique": "polygon",
        "where": "all centres",
        "rows": "14 navy",
        "combine": "layered",
        "start": "line 2",
    }
    triangles = {"technique": "polygon", "where": "all triangles", "rows": "14 white", "params": {"corners": 3}}
    made = built(
        {**squares, "params": {"corners": 4, "at": "1/2 from centre"}},
        {**triangles, "params": {"corners": 3, "at": "1/4 from centre"}},
        division="C8",
    )
    hours = estimated(made, marking_of(made)).hours
    assert hours.low <= 12 <= hours.high


def test_hours_are_the_sum_of_their_parts_and_say_what_they_rest_on() -> None:
    made = built(KIKU)
    hours = estimated(made, marking_of(made)).hours
    for which in ("low", "likely", "high"):
        assert getattr(hours, which) == pytest.approx(sum(getattr(part, which) for part in hours.parts))
    assert hours.low < hours.likely < hours.high
    assert [part.label for part in hours.parts] == [assumption.label for assumption in hours.assumptions]
    assert all(assumption.source and assumption.unit for assumption in hours.assumptions)
    bites = next(part for part in hours.parts if part.unit == "bites")
    assert bites.amount == 3 * 8


def totals(made: Estimate) -> np.ndarray:
    return np.array([[one.laid_mm, one.total_mm] for one in made.threads])


plans = st.lists(st.tuples(st.integers(1, 4), st.sampled_from(["navy", "white"])), min_size=1, max_size=4)


def rows_text(plan: list[tuple[int, str]]) -> str:
    return ", ".join(f"{count} {name}" for count, name in plan)


@pytest.mark.slow
@few
@given(
    plan=plans,
    more=st.tuples(st.integers(1, 3), st.sampled_from(["navy", "white"])),
    at=st.integers(0, 4),
    combine=st.sampled_from(["overlapped", "layered"]),
    working_length=st.sampled_from(["500 mm", "1 m", "1.7 m"]),
)
def test_a_longer_row_list_never_uses_less_thread(
    plan: list[tuple[int, str]], more: tuple[int, str], at: int, combine: str, working_length: str
) -> None:
    layer = {**SQUARE, "where": "N and S", "combine": combine, "params": {"corners": 4, "at": "8 mm"}}
    maker = {"working_length": working_length}
    longer = [*plan[:at], more, *plan[at:]]
    before = totals(estimated(built({**layer, "rows": rows_text(plan)}, {**SQUARE, "rows": "2 navy"}, maker=maker)))
    after = totals(estimated(built({**layer, "rows": rows_text(longer)}, {**SQUARE, "rows": "2 navy"}, maker=maker)))
    assert (after >= before - A_MICROMETRE).all()
    assert (after.sum(axis=0) > before.sum(axis=0)).all()


@pytest.mark.slow
@few
@given(plan=plans, twice=st.sampled_from([KIKU, SQUARE, BAND]))
def test_doubling_every_length_doubles_the_thread(plan: list[tuple[int, str]], twice: dict[str, Any]) -> None:
    layer = {**twice, "rows": rows_text(plan)}
    small = document(layer)
    params = {
        key: f"{2 * float(value.split()[0]):g} mm" if isinstance(value, str) and value.endswith(" mm") else value
        for key, value in twice.get("params", {}).items()
    }
    threads = [{**thread, "rows_per_cm": 7, "skein": "50 m"} for thread in THREADS]
    maker = {"stretch": "4 mm", "bite": "3 mm", "working_length": "2 m", "dip": "2 mm", "ends": "80 mm"}
    once = built(layer, threads=[{**thread, "skein": "25 m"} for thread in THREADS], maker=small["maker"])
    double = built(
        {**layer, **({"params": params} if params else {})},
        ball={"around": "500 mm", "colour": "#8a8f98"},
        threads=threads,
        maker=maker,
    )
    assert totals(estimated(double)) == pytest.approx(2 * totals(estimated(once)), rel=PER_MILLION)
    assert [one.lengths for one in estimated(double).threads] == [one.lengths for one in estimated(once).threads]
    assert [one.skeins for one in estimated(double).threads] == [one.skeins for one in estimated(once).threads]


@pytest.mark.slow
@few
@given(seed=st.integers(0, 2**31), plan=plans)
def test_turning_the_ball_changes_no_estimate(seed: int, plan: list[tuple[int, str]]) -> None:
    made = built({**KIKU, "where": "N and S", "rows": rows_text(plan)}, BAND)
    frame = Rotation.random(rng=np.random.default_rng(seed)).as_matrix()
    turned = replace(made.laid, normal=made.laid.normal @ frame.T, start=made.laid.start @ frame.T)
    other = estimate(made.design, made.ball, made.motifs, turned, besides(made))
    assert totals(other) == pytest.approx(totals(estimated(made)), rel=PER_MILLION)
