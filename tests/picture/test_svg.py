"""The vector picture, read back as XML."""

import re
from xml.etree import ElementTree as ET

import numpy as np
import pytest

from polestitch.picture.subject import marking_laid, subject
from polestitch.picture.svg import drawing, svg
from polestitch.picture.view import view_of
from tests.laying.hand_laid import Hand

from .subjects import BLUE, GREEN, NAVY, RED, X, Y, built, plain, ring_of_bands

NS = "{http://www.w3.org/2000/svg}"
NUMBER = re.compile(r"-?\d+\.?\d*(?:e-?\d+)?")


def fills(text: str) -> list[str]:
    return [path.get("fill", "") for path in ET.fromstring(text).iter(f"{NS}path")]


def test_it_is_one_svg_with_the_ball_and_its_names() -> None:
    root = ET.fromstring(svg(built(), "N", 500))
    assert root.tag == f"{NS}svg"
    assert root.get("viewBox") == "0 0 500 500"
    ball = root.find(f"{NS}circle")
    assert ball is not None
    assert ball.get("fill") == NAVY
    assert [text.text for text in root.iter(f"{NS}text")] == ["N"]


def test_names_face_the_eye() -> None:
    names = {text.text for text in ET.fromstring(svg(built(), "obi 3", 500)).iter(f"{NS}text")}
    assert {"obi 2", "obi 3", "obi 4"} <= names
    assert "obi 7" not in names


def test_numbers_are_to_a_hundredth() -> None:
    for path in ET.fromstring(svg(built(), "obi 2", 500)).iter(f"{NS}path"):
        for number in NUMBER.findall(path.get("d", "")):
            assert round(float(number), 2) == float(number)


def test_every_drawn_point_lies_on_the_ball() -> None:
    text = drawing(plain(ring_of_bands()[0], RED, BLUE, GREEN), view_of(np.array([0.5, 0.3, 0.8])), 400)
    for path in ET.fromstring(text).iter(f"{NS}path"):
        ends = re.findall(r"([-\d.]+) ([-\d.]+)(?=[MLCZ]|$)", path.get("d", ""))
        assert len(ends) > 2
        places = np.array(ends, dtype=float) / 400 - 0.5
        assert np.hypot(*places.T).max() <= 0.46 + 1e-4


def test_thread_is_painted_in_laying_order() -> None:
    # Seen from the middle of an octant all three bands show, each once or in two stretches of one path.
    text = drawing(plain(ring_of_bands()[0], RED, BLUE, GREEN), view_of(np.ones(3)), 400)
    assert fills(text) == [RED, BLUE, GREEN]


def test_an_earlier_thread_is_painted_again_where_it_lies_over() -> None:
    laid, met, over = ring_of_bands()
    text = drawing(plain(laid, RED, BLUE, GREEN), view_of(np.ones(3)), 400, under=(met, np.flatnonzero(~over)))
    # Green goes under red at the one crossing in sight: red again after it, its body and its edges.
    assert fills(text) == [RED, BLUE, GREEN, RED, "none"]
    again = list(ET.fromstring(text).iter(f"{NS}path"))[3].get("d", "")
    numbers = np.array([float(value) for value in NUMBER.findall(again)]).reshape(-1, 2)
    middle = view_of(np.ones(3)).seen(Y)[:2] * [0.46, -0.46] * 400 + 200
    # The crossing of the bands about x and z that is in sight lies at y.
    assert numbers.mean(0) == pytest.approx(middle, abs=2)


def test_marking_lies_below_and_removed_support_lines_are_gone() -> None:
    helper = {"name": "helper", "between": ["N", "obi 2"], "removed": True}
    kept = {"name": "kept", "around": "N", "at": "20 mm", "corners": 4}
    build = built(support=[helper, kept])
    shown = subject(build)
    assert shown.marking is not None
    assert len(shown.marking.normal) == len(build.marking.guidelines) - 1
    paths = list(ET.fromstring(drawing(shown, view_of(X), 400)).iter(f"{NS}path"))
    assert paths[0].get("stroke") == "#d9b24a"
    assert paths[0].get("fill") == "none"


def test_marking_without_a_thread_is_a_thin_one_of_the_ground() -> None:
    shown = subject(built(marking_thread=None))
    assert shown.marking is not None
    assert shown.marking_yarn is None
    assert shown.marking.row_pitch[0] * 240 / (2 * np.pi) == pytest.approx(0.35)


def test_a_bare_ball_is_a_circle() -> None:
    root = ET.fromstring(drawing(plain(Hand().laid(), RED), view_of(X), 400))
    assert not list(root.iter(f"{NS}path"))
    assert root.find(f"{NS}circle") is not None


def test_no_guidelines_no_marking() -> None:
    assert marking_laid((), 0.01) is None


def test_the_same_ball_gives_the_same_text() -> None:
    assert svg(built(), "obi 1", 300) == svg(built(), "obi 1", 300)
