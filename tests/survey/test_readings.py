"""Tables of readings in the habits of several spreadsheets, and mistakes in them."""

import numpy as np
import pytest

from polestitch.errors import DesignError
from polestitch.survey import Measured, Reading, readings_of, survey
from polestitch.survey.form import form
from tests.survey.balls import pinned

WANTED = [("N", "obi 1", 62.5, ""), ("obi 1", "obi 2", 31.0, "")]


@pytest.mark.parametrize(
    "content",
    [
        b"from,to,mm\nN,obi 1,62.5\nobi 1,obi 2,31\n",
        "\ufefffrom;to;mm\r\nN;obi 1;62,5\r\nobi 1;obi 2;31,0\r\n".encode(),
        "Distance (mm)\tTo pin\tPin\tnote\n62.5\tobi 1\tN\t\n\n31\tobi 2\tobi 1\tshaky\n".encode("utf-16"),
        b'"to","from","length"\n"obi 1","N","6.25 cm"\n"obi 2","obi 1","31 mm"\n',
    ],
)
def test_any_habit_is_read(content: bytes) -> None:
    found = readings_of(content, "r.csv")
    assert [(one.first, one.second, one.mm, one.via) for one in found] == WANTED


@pytest.mark.parametrize(
    ("content", "part"),
    [
        (b"", "is empty"),
        (b"from,to,mm\n", "no readings"),
        (b"a pin,another\nN,S\n", '"from"'),
        (b"from,to,mm\nN,obi 1,soon\n", "line 2"),
        (b"from,to,mm\nN,obi 1,62.5\nN,,62.5\n", "line 3"),
        (b"from,to,mm\nN,obi 1,62,5\n", "semicolons"),
        (b"from,to,mm\nN,obi 1,-4\n", "no distance"),
        (b"from,to,mm\nN,obi 1,1e999\n", "no distance"),
        (b"\xff\x00\x81", "UTF-8"),
    ],
)
def test_a_mistake_is_told_with_its_line(content: bytes, part: str) -> None:
    with pytest.raises(DesignError, match=part):
        readings_of(content, "r.csv")


@pytest.mark.parametrize("division", ["S7+obi", "C6", "C8", "C10", "C8/14"])
def test_the_form_asks_for_enough_to_know_every_pin(division: str) -> None:
    ball = pinned(division, 0.0, np.random.default_rng(1))
    lines = form(ball.marking, ball.measured).splitlines()[1:]
    asked = [line.split(",") for line in lines]
    found = survey(ball.marking, Measured(ball.measured.ball), [Reading(a, b, float(due)) for a, b, _, _, due in asked])
    assert found.unknown == ()
    assert found.moves == ()
