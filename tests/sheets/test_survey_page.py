"""Sheets of the pin survey: everything inside the margins, arrows the way the pins go, and words that can be read."""

import math
import re
from functools import cache

import numpy as np
import pytest

from polestitch.sheets.pdf import pdf
from polestitch.sheets.sheet import EDGE, INK, Line, Sheet
from polestitch.sheets.survey_chart import Surveyed, survey_chart, times_longer
from polestitch.sheets.survey_page import Told, form_sheets, survey_sheets
from polestitch.sphere.arcs import move, toward
from polestitch.survey import survey
from polestitch.survey.form import asked
from tests.sheets.paper import outside, words
from tests.survey.balls import Set, pinned

WIDTH = 180.0


@cache
def told(off_mm: float = 3.0) -> Told:
    """C8 with the pin of centre 2 so far toward N, and one reading of it written down wrongly."""
    ball = pinned("C8", 0.0, np.random.default_rng(1))
    at = ball.at.copy()
    k = ball.names.index("centre 2")
    at[k] = move(at[k], toward(at[k], at[0]), np.array(off_mm / ball.radius_mm))
    stirred = Set(ball.marking, ball.measured, ball.names, ball.wanted, at)
    readings = [stirred.read(i, j) for i, j in stirred.pairs()]
    wrong = stirred.read(*stirred.pairs()[3], 9.0)
    found = survey(ball.marking, ball.measured, [*readings, wrong])
    return Told("Harbour lights", ball.marking, found, ("On these pins nothing meets.",))


def shafts(marks: tuple[object, ...]) -> list[Line]:
    return [mark for mark in marks if isinstance(mark, Line) and mark.pen.colour == INK and mark.pen.width == 0.5]


@pytest.mark.slow
@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_the_sheets_stay_inside_the_margins_and_say_what_to_do(paper: str) -> None:
    sheets = survey_sheets(told(), paper)
    assert [outside(sheet, EDGE) for sheet in sheets] == [[] for _ in sheets]
    text = " ".join(words(pdf(sheets)).split())
    for part in ("Move the pin of centre 2", "toward S", "Measure these again", "Pins are sharp", "On these pins"):
        assert part in text


def form(division: str, paper: str = "a4") -> tuple[Sheet, ...]:
    ball = pinned(division, 0.0, np.random.default_rng(1))
    return form_sheets("Harbour lights", ball.marking, ball.measured, asked(ball.marking, ball.measured), paper)


@pytest.mark.slow
@pytest.mark.parametrize("division", ["S5", "C10", "C8/14"])
def test_the_form_asks_for_every_distance_with_room_to_write(division: str) -> None:
    sheets = form(division)
    assert [outside(sheet, EDGE) for sheet in sheets] == [[] for _ in sheets]
    ball = pinned(division, 0.0, np.random.default_rng(1))
    count = len(asked(ball.marking, ball.measured))
    text = words(pdf(sheets))
    assert f"{count} distances to measure" in text
    blanks = [
        mark for sheet in sheets for mark in sheet.marks if isinstance(mark, Line) and mark.pen.dash == (0.4, 0.6)
    ]
    assert len(blanks) == count  # an odd last line has one place to write, not two
    asked_for = re.findall(r"(?<![.\d(])(\d+) (?=[A-Za-z ]+\d* \(\d+\) )", text.split("distances to measure", 1)[1])
    assert [int(number) for number in asked_for][:4] == [1, 2, 3, 4]  # numbers run on across, and so over the page


@pytest.mark.slow
def test_an_arrow_points_where_the_pin_must_go_and_is_as_long_as_it_says() -> None:
    """A pin of the obi that must go toward S: on the S half straight to the middle, so many times as long as stated."""
    sheet = told()
    drawn = Surveyed(sheet.marking, sheet.found)
    (arrow,) = shafts(survey_chart(drawn, WIDTH).marks)
    radius = (WIDTH - 30.0) / 4
    middle = (WIDTH - radius - 6.5, radius + 7.0)
    out = (middle[0] - arrow.x1, middle[1] - arrow.y1)
    way = (arrow.x2 - arrow.x1, arrow.y2 - arrow.y1)
    cosine = (out[0] * way[0] + out[1] * way[1]) / (math.hypot(*out) * math.hypot(*way))
    assert cosine > 0.999
    (moving,) = sheet.found.moves
    paper_mm = moving.mm * radius / (math.pi / 2) / sheet.found.network.size_mm
    assert math.hypot(*way) + 1.5 - 1.75 == pytest.approx(paper_mm * times_longer(drawn, WIDTH), abs=0.02)
