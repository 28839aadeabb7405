"""Basket weave over the whole ball."""

import numpy as np
import pytest

from polestitch.errors import DesignError
from polestitch.laying.alternating import alternating
from tests.stitching.techniques.woven import along_threads, goes_by_turns, woven_ball


@pytest.mark.parametrize(
    ("division", "around", "strands", "crossings"),
    [
        ("C10", "centres", 1, 30),  # the 30 corners of the icosidodecahedron (Coxeter, from memory)
        ("C8", "triangles", 1, 12),  # the 12 corners of the cuboctahedron
        ("C4", "centres", 1, 6),  # the 6 corners of the octahedron
        ("C10", "centres", 2, 120),
        ("C8", "triangles", 3, 108),
    ],
)
def test_every_strand_goes_over_and_under_by_turns(division: str, around: str, strands: int, crossings: int) -> None:
    params = {"around": around, "strands": strands, "apart": "8 mm"}
    made = woven_ball("basket", division, "ball", "1 navy", params)
    assert len(made.crossings) == crossings
    for flags in along_threads(made):
        assert goes_by_turns([*flags, flags[0]])  # round the ball and home again


def test_it_is_the_weave_of_great_circles_but_for_the_one_free_bit() -> None:
    made = woven_ball("basket", "C10", "ball", "1 navy", {})
    known = alternating(made.laid.normal)
    where = {
        (int(a), int(b), *np.round(p, 6)): o for a, b, p, o in zip(known.first, known.second, known.point, known.over)
    }
    met = made.crossings
    ours = [
        bool(over) == bool(where[int(a), int(b), *np.round(p, 6)])
        for a, b, p, over in zip(met.first, met.second, met.point, made.over)
    ]
    assert len(set(ours)) == 1
    other = woven_ball("basket", "C10", "ball", "1 navy", {"lead": "right"})
    assert np.array_equal(other.over, ~made.over)


@pytest.mark.parametrize(("division", "around"), [("C10", "centres"), ("C8", "triangles")])
def test_with_the_wide_angle_before_you_the_upper_strand_always_runs_the_same_way(division: str, around: str) -> None:
    # Published as the rule of the basket weave (temarikai.com, basketweave), for strands one by one.
    made = woven_ball("basket", division, "ball", "1 navy", {"around": around})
    met, normal = made.crossings, made.laid.normal
    upper = np.where(made.over[:, None], normal[met.second], normal[met.first])
    lower = np.where(made.over[:, None], normal[met.first], normal[met.second])
    upper, lower = np.cross(upper, met.point), np.cross(lower, met.point)
    sine = np.einsum("ki,ki->k", np.cross(upper, lower), met.point)
    turned = np.arctan2(sine, np.einsum("ki,ki->k", upper, lower)) % np.pi  # leftward from the upper to the lower
    assert np.all(turned > np.pi / 2 + 0.1) or np.all(turned < np.pi / 2 - 0.1)


def test_the_threads_of_a_strand_are_woven_as_one() -> None:
    made = woven_ball("basket", "C10", "ball", "1 navy, 2 white", {})
    assert len(made.motifs[0].rows) == 18
    assert len(made.crossings) == 30 * 9
    for flags in along_threads(made):
        runs = np.split(np.array(flags), np.flatnonzero(np.diff(flags)) + 1)
        sizes = [len(run) for run in runs]
        assert set(sizes[1:-1]) == {3}


@pytest.mark.parametrize(
    ("division", "params", "told"),
    [
        ("S8", {}, "do not divide"),
        ("C10", {"strands": 2, "apart": "1 mm"}, "further apart"),
        ("C8", {"around": "diamonds"}, "three threads meet"),
    ],
)
def test_what_cannot_be_woven_is_refused(division: str, params: dict[str, object], told: str) -> None:
    with pytest.raises(DesignError, match=told):
        woven_ball("basket", division, "ball", "2 navy", params)
