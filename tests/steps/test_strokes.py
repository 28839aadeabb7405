"""Steps of separate strokes, of figures by turns, and of both poles at once: told numbers are stitched numbers."""

import re

import numpy as np

from polestitch.laying.settle import settled
from polestitch.pipeline import build
from polestitch.sphere.arcs import arc_angle
from polestitch.steps.layer import layer_lines
from tests.stitching.crafts import design_of


def _text(technique: str, division: str, **layer: object) -> str:
    return "\n".join(line.text for line in layer_lines(build(design_of(technique, division, **layer)), 0))


def test_strokes_are_counted_and_measured_as_they_are_laid() -> None:
    made = build(design_of("hemp_leaf", "S8"))
    (motif,) = made.motifs
    (thread,) = settled(motif.rows)
    lengths = [made.ball.mm(float(arc_angle(chain[0], chain[-1]))) for chain in thread.chains]
    said = re.findall(r"(\d+) strokes? about ([\d.]+) mm long", "\n".join(line.text for line in layer_lines(made, 0)))
    assert sum(int(count) for count, _ in said) == len(lengths)
    for count, mm in said:
        assert sum(abs(length - float(mm)) <= 0.3 for length in lengths) == int(count)


def test_the_steps_name_the_makers_own_in_step() -> None:
    assert "Here it is 7 mm;" in _text("swirl", "S8", rows="4 navy", params={"in_step": "7 mm"})


def test_a_new_figure_of_a_rose_says_on_which_line_and_how_far() -> None:
    made = build(design_of("rose", "S8", rows="8 navy"))
    text = "\n".join(line.text for line in layer_lines(made, 0))
    row = made.motifs[0].rows[4]
    mm = made.ball.mm(float(np.arccos(row.places[0, 2])))
    match = re.search(
        r"Row 5 begins a new figure at line (\d+).*stands ([\d.]+) mm(?: \(exactly ([\d.]+)\))? from N", text
    )
    assert match is not None
    assert int(match[1]) == row.spokes[0] == 2
    assert abs(float(match[3] or match[2]) - mm) < 0.06


def test_inner_and_outer_bites_of_a_zigzag_are_told_apart() -> None:
    text = _text("shitagake", "S8", rows="3 navy")
    assert "the inner bite" in text
    assert "the outer tip" in text
    assert "the corner" in _text("polygon", "C8", where="diamond 1", rows="2 navy", params={"corners": 4})


def test_stitching_between_the_lines_names_both() -> None:
    text = _text("uwagake", "S22", params={"between": True, "step": 4})
    assert "the middle between lines 1 and 2" in text
    assert "it closes after 4 laps" in text


def test_both_poles_name_both_and_tell_two_laps_of_an_odd_set() -> None:
    odd, even = _text("both_poles", "S10"), _text("both_poles", "S8")
    assert "from S" in odd
    assert "it closes after 2 laps" in odd
    assert "laps" not in even
    assert "Two threads" in even


def test_corners_given_as_a_share_are_told_in_millimetres_line_by_line() -> None:
    made = build(design_of("hemp_leaf", "C8", where="N", params={"at": "1/2 from centre"}))
    text = "\n".join(line.text for line in layer_lines(made, 0))
    # On a C8 the ways from a centre are a quarter turn's half (45 degrees) and the cube's half diagonal (54.74).
    around = made.ball.around_mm
    for degrees, lines in ((45, "1, 3, 5 and 7"), (54.7356, "2, 4, 6 and 8")):
        match = re.search(rf"([\d.]+) mm(?: \(exactly ([\d.]+)\))? from N on lines {lines}", text)
        assert match is not None
        assert abs(float(match[2] or match[1]) - around * degrees / 720) < 0.051


def test_strokes_at_other_places_are_not_told_to_go_from_line_to_line() -> None:
    text = _text("hemp_leaf", "C8", where="all centres")
    assert "At S start on line" in text
    assert "then come lines" not in text
