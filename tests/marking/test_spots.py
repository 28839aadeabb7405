"""A touched point changes her words for where by that point and by nothing else."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from polestitch.ball.ball import Ball
from polestitch.errors import DesignError
from polestitch.marking.divisions import marked
from polestitch.marking.spots import with_spot
from polestitch.marking.where import places

BALL = Ball(300.0)
C10 = marked("C10")
S8 = marked("S8+obi")
WRITTEN: tuple[str | tuple[str, ...], ...] = (
    "all centres",
    "all centres except centre 3",
    "both poles",
    "N and S",
    "triangles 1, 2 and 5",
    "centres 2 to 6",
    ("N", "triangle 2"),
    ("all diamonds", "centre 4"),
    ("centre 2", "N to centre 2, 1/2"),
)


def named(where: str | tuple[str, ...]) -> set[str]:
    return {place.name for place in places(C10, where, BALL)}


@pytest.mark.parametrize(
    ("where", "touched", "now"),
    [
        ("all centres except centre 3", "centre 5", "all centres except centres 3 and 5"),
        ("all centres except centre 3", "centre 3", "all centres"),
        ("all centres", "centre 3", "all centres except centre 3"),
        ("both poles", "centre 5", ("both poles", "centre 5")),
        ("both poles", "S", "N"),
        ("N", "S", "N and S"),
        ("triangles 1, 2 and 5", "triangle 2", "triangles 1 and 5"),
        (("centre 2", "N to centre 2, 1/2"), "centre 3", ("centre 2", "N to centre 2, 1/2", "centre 3")),
        (("centre 2", "N to centre 2, 1/2"), "centre 2", "N to centre 2, 1/2"),
        ("centre 4", "centre 4", "centre 4"),
    ],
)
def test_her_words_change_by_the_touched_point_alone(
    where: str | tuple[str, ...], touched: str, now: str | tuple[str, ...]
) -> None:
    assert with_spot(C10, where, touched, BALL) == now


def test_a_spot_between_marked_points_is_never_lost() -> None:
    # "N to obi 2, 1/2" is no marked point; a reader that knows marked points alone would drop it.
    where = ("N", "N to obi 2, 1/2")
    assert with_spot(S8, where, "obi 4", BALL) == ("N", "N to obi 2, 1/2", "obi 4")


@given(where=st.sampled_from(WRITTEN), touched=st.lists(st.sampled_from(sorted(C10.by_name)), min_size=1, max_size=6))
def test_any_touches_leave_just_what_was_touched_changed(where: str | tuple[str, ...], touched: list[str]) -> None:
    for point in touched:
        before = named(where)
        where = with_spot(C10, where, point, BALL)
        wanted = before ^ {point}
        assert named(where) == (wanted or before)


def test_words_that_name_nothing_are_not_rewritten() -> None:
    with pytest.raises(DesignError, match="where"):
        with_spot(C10, "all windows", "N", BALL)
