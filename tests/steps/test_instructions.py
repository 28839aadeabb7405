"""Instructions a beginner can follow: complete, in order, in plain sentences, and true to the thread."""

import re
from typing import Any

import numpy as np
import pytest
from geographiclib.geodesic import Geodesic

from polestitch.marking.pins import pin_plan
from polestitch.marking.route import thread_route
from polestitch.pipeline import Build
from polestitch.steps import Instructions, instructions
from polestitch.stitching.technique import names, technique
from tests.builds import BAND, KIKU, SQUARE, built
from tests.conftest import Golden

A_MICROMETRE = 1e-3  # mm
LEFT = {"hand": "left", "stretch": "2 mm"}


def told(made: Build) -> Instructions:
    return instructions(made, pin_plan(made.marking, made.ball), thread_route(made.marking, made.ball))


def text_of(made: Build, layer: int = 0) -> str:
    return "\n".join(step.text for step in told(made).of("layer", layer))


def example(name: str) -> Build:
    shown = technique(name).EXAMPLE
    layer = {
        "technique": name,
        "where": shown["where"],
        "params": shown["params"],
        "rows": shown["rows"].replace("gold", "white"),
    }
    return built(layer, division=shown["division"])


ALL = pytest.mark.parametrize("name", names())


@ALL
def test_steps_count_from_one_in_every_section(name: str) -> None:
    steps = told(example(name)).steps
    for section in ("base", "marking", "layer", "finish"):
        numbers = [step.number for step in steps if step.section == section]
        assert numbers == list(range(1, len(numbers) + 1))
        assert len(numbers) > 3


@ALL
@pytest.mark.parametrize("maker", [{}, LEFT, {"units": "in"}])
def test_every_step_is_made_of_short_plain_sentences(name: str, maker: dict[str, Any]) -> None:
    shown = technique(name).EXAMPLE
    layer = {
        "technique": name,
        "where": shown["where"],
        "params": shown["params"],
        "rows": shown["rows"].replace("gold", "white"),
    }
    for step in told(built(layer, division=shown["division"], maker=maker)).steps:
        assert re.match(r"[A-Z]", step.text), step.text
        assert step.text.endswith("."), step.text
        assert not re.search(r"[!{}]|  |None|nan|\bobi obi\b|from obi\b", step.text), step.text
        for sentence in re.split(r"(?<=[.:;]) ", step.text):
            assert len(sentence.split()) <= 42, sentence


@ALL
def test_a_technique_introduces_itself_with_its_japanese_name_once(name: str) -> None:
    first, *rest = [step.text for step in told(example(name)).of("layer", 0)]
    term = re.search(r"\(([a-z][a-z -]*)", first)
    assert first.endswith(".")
    if term:
        assert not any(term[1] in text for text in rest)


@ALL
def test_every_row_is_in_the_table_with_its_colour(name: str) -> None:
    made = example(name)
    (table, *_) = told(made).tables_of(0)
    motif = made.motifs[0]
    assert [row.number for row in table.rows] == [row.number for row in motif.rows]
    assert [row.thread for row in table.rows] == [made.design.threads[k].name for k in motif.threads]
    assert all(row.distances for row in table.rows)


def test_distances_in_the_table_are_geodesics_from_the_named_pin() -> None:
    # GeographicLib on a sphere of the ball's radius.
    made = built({**KIKU, "rows": "4 navy"})
    sphere, motif = Geodesic(made.ball.radius_mm, 0), made.motifs[0]
    for line, row in zip(told(made).tables_of(0)[0].rows, motif.rows):
        by_kind = {distance.kind: distance for distance in line.distances}
        for bite, place in enumerate(row.places @ motif.frame.T):
            latitude, longitude = np.degrees(np.arcsin(place[2])), np.degrees(np.arctan2(place[1], place[0]))
            expected = sphere.Inverse(90, 0, latitude, longitude)["s12"]
            distance = by_kind["inner bite" if row.wide[bite] else "outer tip"]
            assert distance.mm == pytest.approx(expected, abs=A_MICROMETRE)
            assert distance.fraction == pytest.approx(expected / made.ball.around_mm)
            assert (distance.pin, row.spokes[bite] in distance.spokes) == ("N", True)


def test_tips_of_a_spindle_are_measured_from_the_ends_of_their_line() -> None:
    made = built({"technique": "spindle", "where": "line 1", "rows": "2 navy", "params": {"at": "1/3 from edge"}})
    first, second = told(made).tables_of(0)[0].rows
    # A third of the 62.5 mm from the middle of the line to each end; row 2 steps 2 mm nearer.
    assert [(d.pin, round(d.mm, 2)) for d in first.distances] == [("N", 20.83), ("S", 20.83)]
    assert [round(d.mm, 2) for d in second.distances] == [18.83, 18.83]


def test_the_two_pins_of_a_spindle_are_never_told_alike() -> None:
    spindle = {"technique": "spindle", "where": "slope", "rows": "2 navy", "params": {"at": "1/2 from centre"}}
    slope = {"name": "slope", "between": ["N to obi 1, 1/3", "N to obi 3, 2/3"]}
    for layer, support in (({**spindle, "where": "line 1"}, []), (spindle, [slope])):
        text = text_of(built(layer, marking={"division": "S8", "support": support}))
        pins = [line for line in text.splitlines() if line.startswith("Set ")]
        assert pins
        assert len(set(pins)) == len(pins)
        assert ("two pins, one each way" in pins[0]) == bool(support)


def lines_named(text: str) -> list[int]:
    return [int(number) for number in re.findall(r"to line (\d+)", text)]


@pytest.mark.parametrize("maker", [{}, LEFT])
@pytest.mark.parametrize("layer", [KIKU, SQUARE, {**KIKU, "where": "S"}, {**SQUARE, "start": "line 3"}])
def test_the_bites_told_are_the_bites_stitched(layer: dict[str, Any], maker: dict[str, Any]) -> None:
    made = built(layer, maker=maker)
    row, text = made.motifs[0].rows[0], text_of(made)
    visited = lines_named(text)
    assert len(visited) >= 2
    assert visited == list(row.spokes[1 : 1 + len(visited)])
    assert f"of line {row.spokes[0]}," in text


def test_a_left_handers_steps_are_the_mirror_image() -> None:
    # On line 1 both begin; after that the lines are met the other way round, so numbers are left out of the comparison.
    right, left = text_of(built(KIKU)), text_of(built(KIKU, maker=LEFT))
    swapped = {"left": "right", "right": "left"}
    mirrored = re.sub(r"\b(left|right)\b", lambda word: swapped[word[0]], right)
    assert re.sub(r"line \d+", "line", mirrored) == re.sub(r"line \d+", "line", left)
    assert "come up just left of line 1" in right
    assert "Take a bite from right to left" in right
    assert "come up just right of line 1" in left
    assert lines_named(left)[:2] == [8, 7]


def test_an_odd_number_of_lines_takes_two_laps() -> None:
    # Published: a set of five lines needs two laps to come home (temarikai.com/patterns/StitchAlongs/tem0801.html).
    assert "closes after 2 laps" in text_of(built(KIKU, division="S5"))
    assert "laps" not in text_of(built(KIKU))


def test_a_star_says_how_far_it_skips() -> None:
    star = {"technique": "star", "where": "N", "rows": "2 navy", "params": {"points": 5, "step": 2}}
    text = text_of(built(star, division="S10"))
    assert "to line 5, the fourth line on" in text
    assert "closes after 2 laps" in text


def test_a_kiku_tells_lay_first_and_gather_all() -> None:
    text = text_of(built(KIKU))
    assert "lay the thread first, about 2 mm beyond the former one" in text
    assert "carry the thread over all earlier threads" in text
    assert "Pin a round card 16 mm across at N" in text
    wide = {**KIKU, "params": {"outer": "1/2 from obi", "inner": "14 mm"}}
    assert "14 mm from N, for each inner bite of row 1" in text_of(built(wide))


def test_layered_places_are_worked_in_one_order() -> None:
    squares = {**SQUARE, "where": "all centres", "combine": "layered", "params": {"corners": 4, "at": "10 mm"}}
    text = text_of(built(squares, division="C8"))
    assert "Work at 6 places, in this order: N, centre 2 to centre 5 and S." in text
    assert "Work row 1 at every place in that order, then row 2" in text


def test_layers_that_take_turns_say_so() -> None:
    first, second = {**KIKU, "together": "a"}, {**KIKU, "together": "a", "params": {"set": 2}}
    assert "Take turns: row 1 of layer 1, then row 1 of layer 2" in text_of(built(first, second), 1)


def test_a_thread_that_goes_under_is_told() -> None:
    under = {**BAND, "under": [{"layer": "layer 1", "rule": "under first"}]}
    assert "go under it the first time, over it the next" in text_of(built(KIKU, under), 1)


def test_a_band_tells_turns_of_each_side_and_keeper_pins() -> None:
    text = text_of(built(BAND))
    assert text.count("3 turns of navy and 1 turn of white") == 2
    assert "every 2 to 3 cm" in text
    assert "about 5.7 mm wide" in text  # eight threads of 10/14 mm


def test_the_last_row_says_how_much_is_left_to_the_obi() -> None:
    until = {**KIKU, "rows": "until 6 mm from obi: 1 navy"}
    text = text_of(built(until))
    rest = re.search(r"The outermost stand ([\d.]+) mm short of the obi", text)
    assert rest is not None
    assert 6 <= float(rest[1]) < 8  # one more step of 2 mm would be too far
    assert "Stop after row" in text


@pytest.mark.parametrize("division", ["S8+obi", "S5", "C6", "C8", "C10"])
def test_the_marking_steps_set_every_pin_and_lay_every_line(division: str) -> None:
    made = built({**BAND, "where": "obi"}, division=division)
    plan, route = pin_plan(made.marking, made.ball), thread_route(made.marking, made.ball)
    text = "\n".join(step.text for step in told(made).of("marking"))
    for pin in plan:
        assert re.search(rf"\b{pin.point}\b", text), pin.point
    for piece in route.pieces:
        assert text.count("Lay the thread") >= len(piece.runs)


def test_the_makers_rule_stands_beside_the_exact_distance() -> None:
    # C/6 + C/100 on 300 mm: 53.0; exact 52.86 (Coxeter, Regular Polytopes: a dodecahedron, 63.43 degrees).
    made = built({"technique": "star", "where": "N", "rows": "1 navy"}, division="C10", ball={"around": "300 mm"})
    text = "\n".join(step.text for step in told(made).of("marking"))
    assert "53 mm (exactly 52.9) from N" in text
    assert "By the makers' rule that distance is 53 mm." in text


def test_support_lines_are_pinned_laid_and_taken_out_again() -> None:
    support = [{"name": "ring", "around": "N", "at": "20 mm", "removed": True}]
    made = built(KIKU, marking={"division": "S8", "support": support})
    steps = told(made)
    marking = " ".join(step.text for step in steps.of("marking"))
    assert 'Set pins for the support line "ring" on every line of N, 20 mm along it.' in marking
    assert 'Lay the thread along the support line "ring"' in marking
    assert "ring" in steps.of("finish")[0].text


def test_inches_come_first_for_a_maker_who_works_in_inches() -> None:
    text = text_of(built(KIKU, maker={"units": "in"}))
    assert "5/16 in (8.0 mm) from N" in text
    assert "1.1 yd of navy" in text


def test_cautions_defer_to_local_rules_and_to_people_who_know() -> None:
    cautions = " ".join(told(built(KIKU)).cautions)
    for word in ("pins", "small children", "toy-safety", "hulls", "Wire", "doctor", "organiser"):
        assert word in cautions


def test_the_instructions_of_a_small_ball(golden: Golden) -> None:
    made = built({**KIKU, "where": "N and S", "rows": "2 navy, 1 white"}, BAND)
    steps = told(made)
    lines = [f"{step.section} {step.number}. {step.text}" for step in steps.steps]
    golden.check("steps-small-ball.txt", "\n".join([*lines, *steps.cautions]) + "\n")


def test_a_band_off_its_circle_is_wound_away_from_it_and_then_back_toward_it() -> None:
    text = text_of(built({"technique": "band", "where": "obi", "rows": "3 navy", "params": {"off": "12 mm"}}))
    away, back = (text.index(words) for words in ("outward from the obi", "inward, toward the obi"))
    assert away < text.index("Pass under the first turn") < back
    assert "side nearer to the obi" in text
