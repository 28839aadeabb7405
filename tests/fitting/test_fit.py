"""Wishes that come true, against closed forms and published patterns."""

import re
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.special import ellipkinc

from polestitch.document.threads import SIZES
from polestitch.errors import DesignError
from polestitch.fitting import fit_answer, sizes_json
from polestitch.fitting.wishes import Wish, missed
from tests.builds import BAND, KIKU, SQUARE
from tests.builds import document as without_format
from tests.reference.patterns import ALMOST_MM, NEXT_CENTRE, PATTERNS

PUBLISHED = {pattern.name: pattern for pattern in PATTERNS}

SQUARES = {**SQUARE, "where": "all centres", "rows": "6 navy", "params": {"corners": 4, "at": "10 mm"}}


def document(*layers: dict[str, Any], **rest: Any) -> dict[str, Any]:
    return {"format": 1, **without_format(*layers, **rest)}


def c8(*layers: dict[str, Any], **rest: Any) -> dict[str, Any]:
    return document(*layers, division="C8", **rest)


def threads(pitch_mm: float) -> list[dict[str, Any]]:
    return [{"name": "navy", "colour": "#1d2b5a", "rows_per_cm": 10 / pitch_mm}]


def one(answer: dict[str, Any]) -> dict[str, Any]:
    (found,) = answer["found"]
    assert isinstance(found, dict)
    return found


def rows_between(start: float, end: float, pitch: float) -> float:
    """Square rows that fit on an octahedral face, corners from ``start`` to ``end`` (radians), before the floor.

    1 + k - ln(sin a1 / sin a0) / 2 with tan a = 1 / cos r and k = R / (w sqrt 2) [F(r1 | 1/2) - F(r0 | 1/2)];
    derived for a corner that steps by its thread's width over the sine of half its angle.
    """
    sines = [np.sin(np.arctan(1 / np.cos(r))) for r in (start, end)]
    k = (ellipkinc(end, 0.5) - ellipkinc(start, 0.5)) / (pitch * np.sqrt(2))
    return float(1 + k - np.log(sines[1] / sines[0]) / 2)


@pytest.mark.parametrize(("around", "pitch", "at"), [(250, 0.714, 10), (300, 0.9, 12), (220, 0.5, 14), (270, 1.0, 6)])
def test_square_rows_to_a_place_are_those_of_the_closed_form(around: float, pitch: float, at: float) -> None:
    told = c8({**SQUARES, "params": {"corners": 4, "at": f"{at} mm"}}, ball={"around": f"{around} mm"},
              threads=threads(pitch))  # fmt: skip
    found = one(fit_answer(told, {"layer": "layer 1", "wish": "reach", "at": "30 mm from centre"}))
    unit = 2 * np.pi / around
    assert int(found["to"].split()[0]) == int(rows_between(at * unit, 30 * unit, pitch * unit))


def test_the_start_for_a_wanted_count_is_that_of_the_closed_form() -> None:
    told = c8({**SQUARES, "rows": "20 navy"}, threads=threads(0.8))
    answer = fit_answer(told, {"layer": "layer 1", "wish": "reach", "at": "30 mm from centre", "change": "start"})
    start = float(answer["document"]["layers"][0]["params"]["at"].split()[0])
    unit = 2 * np.pi / 250
    # The closed form is a sum taken as an integral: good to a twentieth of a row.
    assert rows_between(start * unit, 30 * unit, 0.8 * unit) == pytest.approx(20, abs=0.15)


def implied_pitch(told: dict[str, Any], wish: dict[str, str]) -> float:
    answer = fit_answer(told, {"layer": "layer 1", "change": "pitch", **wish})
    assert one(answer)["exact"]
    return float(10 / answer["document"]["threads"][0]["rows_per_cm"])


def test_published_stars_imply_the_same_thread() -> None:
    # temarikai.com, pattern GT33: about five rows on 25 cm until the points stand in the next centre.
    layer = {"technique": "star", "where": "N", "rows": "5 navy", "params": {"at": "1.5 from centre"}}
    told = document(layer, division="C10", threads=threads(0.7), maker={"stretch": "6 mm"})
    wish = {"wish": "reach", "at": f"{250 * NEXT_CENTRE - ALMOST_MM:.9f} mm from centre"}
    assert implied_pitch(told, wish) == pytest.approx(
        PUBLISHED["five-point stars on C10, 25 cm, 5 rows"].pitch_mm(6.0), abs=2e-4
    )


@pytest.mark.slow
def test_published_spindles_imply_nearly_the_same_thread() -> None:
    # temarikai.com/PatternsPages/Simple/SC02.html: ten lines, 23 cm, 11 rounds from half way fill the field.
    # The yardstick sets the greatest width against the field's; neighbours that lean alike touch a little sooner.
    layer = {"technique": "spindle", "where": "all lines", "rows": "11 navy", "params": {"at": "1/2 from centre"}}
    told = document(layer, division="S10+obi", ball={"around": "230 mm"}, threads=threads(0.7))
    pitch, yardstick = (
        implied_pitch(told, {"wish": "meet"}),
        PUBLISHED["spindles, ten lines, 23 cm, 11 rounds"].pitch_mm(),
    )
    assert yardstick is not None
    assert 0.98 * yardstick < pitch < yardstick


@pytest.mark.slow
@settings(max_examples=4, deadline=None)
@given(st.floats(0.5, 2))
def test_a_ball_and_its_threads_scaled_together_leave_every_count(scale: float) -> None:
    def told(size: float) -> dict[str, Any]:
        layer = {**SQUARES, "params": {"corners": 4, "at": f"{10 * size:.9f} mm"}}
        return c8(layer, ball={"around": f"{250 * size:.9f} mm"}, threads=threads(0.71 * size))

    wish = {"layer": "layer 1", "wish": "meet"}
    assert one(fit_answer(told(scale), wish))["to"] == one(fit_answer(told(1.0), wish))["to"]


@pytest.mark.slow
def test_meeting_neighbours_leaves_no_room_for_a_row_and_no_overlap() -> None:
    wish = {"layer": "layer 1", "wish": "meet"}
    answer = fit_answer(c8(SQUARES), wish)
    made, asked = answer["document"], Wish.model_validate(wish)
    count = int(one(answer)["to"].split()[0])
    more = {**made, "layers": [{**made["layers"][0], "rows": f"{count + 1} navy"}]}
    assert missed(made, asked).mm >= 0 > missed(more, asked).mm
    assert one(answer)["residual_mm"] == pytest.approx(missed(made, asked).mm, abs=1e-3)


@pytest.mark.slow
@pytest.mark.parametrize("change", ["start", "pitch", "around"])
def test_a_chosen_gap_is_left(change: str) -> None:
    wish = {"layer": "layer 1", "wish": "gap", "gap": "2 mm", "change": change}
    answer = fit_answer(c8({**SQUARES, "rows": "20 navy"}), wish)
    assert one(answer)["exact"]
    assert missed(answer["document"], Wish.model_validate({"layer": "layer 1", "wish": "meet"})).mm == pytest.approx(
        2, abs=0.1
    )


@pytest.mark.slow
def test_squares_and_triangles_are_fitted_together() -> None:
    triangles = {**SQUARE, "where": "all triangles", "rows": "2 white", "params": {"corners": 3, "at": "3 mm"}}
    wishes = [
        {"layer": "layer 1", "wish": "gap", "gap": "20 mm"},
        {"layer": "layer 2", "wish": "meet", "with": "layer 1"},
    ]
    answer = fit_answer(c8(SQUARES, triangles), {"wishes": wishes})
    assert [0 <= found["residual_mm"] < 2 for found in answer["found"]] == [True, True]


def test_inward_rows_fill_the_face_to_its_centre() -> None:
    layer = {**SQUARE, "rows": "3 navy", "params": {"corners": 4, "at": "15 mm", "grow": "inward"}}
    found = one(fit_answer(document(layer), {"layer": "layer 1", "wish": "fill"}))
    # Corners of a flat square step by the thread's width times sqrt 2; 14 threads to the centimetre.
    assert int(found["to"].split()[0]) == pytest.approx(15 / (10 / 14 * np.sqrt(2)), abs=1)


def test_where_nothing_fits_the_nearest_and_the_miss_are_told() -> None:
    wish = {"layer": "layer 1", "wish": "meet", "with": "layer 2"}
    answer = fit_answer(c8({**SQUARES, "rows": "3 navy"}, {**BAND, "where": "all equators"}), wish)
    found = one(answer)
    assert not found["exact"]
    assert found["residual_mm"] < 0
    assert re.match(r'Nothing makes it so that "layer 1" meets "layer 2": nearest is 1 row, where', found["sentence"])


@pytest.mark.parametrize(
    ("wish", "says"),
    [
        ({"layer": "layer 9", "wish": "meet"}, "no layer is called"),
        ({"layer": "layer 1", "wish": "gap"}, "say how far apart"),
        ({"layer": "layer 1", "wish": "reach"}, "say what to reach"),
        ({"layer": "layer 1", "wish": "meet"}, "only place"),
        ({"layer": "layer 1", "wish": "fill", "change": "start", "param": "nose"}, "is no length of uwagake"),
    ],
)
def test_a_wish_that_cannot_be_read_says_what_would_be_right(wish: dict[str, Any], says: str) -> None:
    with pytest.raises(DesignError, match=says):
        fit_answer(document(KIKU), wish)


@pytest.mark.slow
def test_a_smaller_ball_leaves_less_room_and_takes_less_thread() -> None:
    sizes = sizes_json(c8(SQUARES), 247.0)["sizes"]
    assert [size["size"] for size in sizes] == [
        "4 % smaller", "2 % smaller", "as planned", "2 % larger", "as measured",
    ]  # fmt: skip
    gaps = [size["layers"][0]["gap_mm"] for size in sizes[:4]]
    assert gaps == sorted(gaps)
    assert gaps[0] < gaps[-1]


REACH = {"layer": "layer 1", "wish": "reach", "at": "44.05 mm from centre"}


def ten_way_star() -> dict[str, Any]:
    """Five rows of a star on every centre of C10, 25 cm, that end far short of the next centre."""
    layer = {"technique": "star", "where": "all centres", "rows": "5 navy", "params": {"at": "15 mm"}}
    return document(layer, division="C10", threads=threads(10 / 14))


def test_a_start_is_looked_for_along_the_whole_guideline() -> None:
    found = one(fit_answer(ten_way_star(), {**REACH, "change": "start"}))
    assert found["exact"]
    assert 35.2 < float(found["to"].split()[1]) < 44.05  # beyond the short guideline's end


def test_a_thread_that_nobody_sells_is_never_the_answer() -> None:
    told = ten_way_star()
    told["threads"] = [{"name": "navy", "colour": "#234", "size": "pearl 5"}]
    answer = fit_answer(told, {**REACH, "change": "thread"})
    size = answer["document"]["threads"][0]["size"]
    assert size in SIZES
    assert "rows_per_cm" not in answer["document"]["threads"][0]
    assert one(answer)["exact"] or one(answer)["sentence"].startswith("No thread makes it so")


def test_what_else_comes_true_is_offered_in_the_order_a_maker_changes_it() -> None:
    found = one(fit_answer(ten_way_star(), {**REACH, "change": "around"}))
    assert not found["exact"]
    assert [("rows" in offer, '"at"' in offer) for offer in found["offers"]] == [(True, False), (False, True)]


def test_an_offer_does_come_true() -> None:
    told = ten_way_star()
    offer = one(fit_answer(told, {**REACH, "change": "around"}))["offers"][0]
    told["layers"][0]["rows"] = f"{offer.split(' rows')[0].rsplit(' ', 1)[1]} navy"
    told = fit_answer(told, {**REACH, "change": "stretch"})["document"]
    assert missed(told, Wish.model_validate(REACH)).mm == pytest.approx(0, abs=0.1)


def test_widths_stay_what_a_hand_can_lay() -> None:
    answer = fit_answer(ten_way_star(), {**REACH, "change": "pitch"})
    width = 10 / answer["document"]["threads"][0]["rows_per_cm"]
    assert 10 / 14 / 1.6 <= width <= 1.6 * 10 / 14  # published balls imply 0.71 to 1.07 mm for size 5
