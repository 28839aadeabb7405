"""Turns that leave a marking as it is, against a general reference library's rotation groups."""

import numpy as np
import pytest
from scipy.spatial.transform import Rotation

from polestitch.errors import DesignError
from polestitch.marking.address import point
from polestitch.marking.divisions import marked
from polestitch.stitching.turns import like_places, turns


# The mirrors of C4 and C6 belong to the tetrahedron's and the brick's groups, but the circles alone
# lie like a cube's: 24 turns each (scipy.spatial.transform, groups O, I and D8).
@pytest.mark.parametrize(
    ("division", "group"),
    [
        ("C4", "O"),
        ("C6", "O"),
        ("C8", "O"),
        ("C10", "I"),
        ("S8+obi", "D8"),
        ("S5", "D5"),
        ("C8/14", "O"),
        ("C10/32", "I"),
        ("C10/72(2,1)", "I"),
        ("C6/8", "T"),
    ],
)
def test_the_turns_are_the_group_of_the_reference_library(division: str, group: str) -> None:
    found = np.array(turns(marked(division)))
    known = Rotation.create_group(group).as_matrix()
    assert len(found) == len(known)
    angles = [np.sort(np.round(np.trace(each, axis1=1, axis2=2), 6)) for each in (found, known)]
    assert angles[0] == pytest.approx(angles[1], abs=1e-5)


def test_each_like_place_is_reached_by_a_turn_of_the_marking() -> None:
    marking = marked("C10")
    centres = [point(marking, known.name) for known in marking.of_kind("centre")]
    made = like_places(marking, centres)
    assert len(made) == 12
    for turn, centre in zip(made, centres):
        assert turn @ centres[0].at == pytest.approx(centre.at, abs=1e-9)
        assert np.linalg.det(turn) == pytest.approx(1.0)
    assert made[0] == pytest.approx(np.eye(3))


def test_places_that_are_not_alike_are_refused() -> None:
    marking = marked("C8")
    with pytest.raises(DesignError, match="no turn of the ball"):
        like_places(marking, [point(marking, "N"), point(marking, "triangle 1")])
