"""Readings that cannot be are told one by one, and the others go on without them; few readings break nothing."""

import numpy as np
import pytest

from polestitch.errors import DesignError
from polestitch.survey import Reading, readings_of, survey
from polestitch.survey.field import parted
from polestitch.survey.told import said, survey_json
from tests.survey.balls import pinned


def test_each_impossible_reading_is_told_and_the_rest_stay() -> None:
    ball = pinned("S8+obi", 0.0, np.random.default_rng(1))
    given = [
        Reading("N", "obi 1", 62.5, line=1),
        Reading("N", "obi 77", 62.5, line=2),
        Reading("obi 1", "obi 1", 62.5, line=3),
        Reading("N", "obi 2", 180.0, line=4),
        Reading("N", "S", 125.0, line=5),
        Reading("N", "S", 125.0, via="obi 3", line=6),
    ]
    good, wrong = parted(ball.marking, ball.measured, given, 0.5)
    assert [one.line for one in good] == [1, 6]
    told = {one.line: error.what for one, error in wrong}
    assert set(told) == {2, 3, 4, 5}
    assert "one pin" in told[3]
    assert "half way round" in told[4]
    assert "via" in told[5]


@pytest.mark.slow
@pytest.mark.parametrize("division", ["S5", "S8+obi", "C6", "C10"])
def test_no_reading_or_one_already_gives_an_answer(division: str) -> None:
    ball = pinned(division, 1.0, np.random.default_rng(2))
    for count in (0, 1, 2):
        given = [ball.read(i, j) for i, j in ball.pairs()[:count]]
        told = survey_json(survey(ball.marking, ball.measured, given))
        assert len(told["readings"]) == count
        assert said(survey(ball.marking, ball.measured, given))


def test_a_form_filled_in_by_half_is_read_as_far_as_it_goes() -> None:
    table = b"from,to,mm,via,should be\nN,obi 1,,,62.5\nN,obi 2,62,,62.5\nN,obi 3,,,62.5\n"
    assert [(one.second, one.mm, one.line) for one in readings_of(table, "pins.csv")] == [("obi 2", 62.0, 3)]
    with pytest.raises(DesignError, match="no distance filled in yet"):
        readings_of(b"from,to,mm\nN,obi 1,\n", "pins.csv")


@pytest.mark.parametrize(
    ("head", "cell", "mm"),
    [("cm", "6,25", 62.5), ("Distance (cm)", "6.25", 62.5), ("inches", "2.5", 63.5), ("in", "65 mm", 65.0)],
)
def test_a_head_can_name_the_unit(head: str, cell: str, mm: float) -> None:
    (one,) = readings_of(f"from;to;{head}\nN;obi 1;{cell}\n".encode(), "pins.csv")
    assert one.mm == pytest.approx(mm)
