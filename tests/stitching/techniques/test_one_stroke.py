"""One stroke over the whole ball, against a graph library."""

import itertools

import networkx as nx
import numpy as np
import pytest

from polestitch.errors import DesignError
from polestitch.stitching.stars import stars
from polestitch.stitching.techniques.one_stroke import Params, Spot, stitch, strokes
from tests.stitching.sites import whole_ball


# Published one-stroke ball (temarikai.com, GT57): offset pentagons on a C10 of 24 cm give 20 six-point
# and 12 five-point stars.  C8 likewise makes the 14-face ball, the learner's one: 8 and 6.
# The markings of 14 and 32 faces themselves make the same; one of 72 leans (h, k = 2, 1), one of 8 stands on triangles.
@pytest.mark.parametrize(
    ("division", "stars_by_points"),
    [
        ("C10", {6: 20, 5: 12}),
        ("C8", {6: 8, 4: 6}),
        ("C10/32", {6: 20, 5: 12}),
        ("C8/14", {6: 8, 4: 6}),
        ("C10/72(2,1)", {6: 60, 5: 12}),
        ("C6/8", {6: 4, 3: 4}),
    ],
)
def test_one_stroke_makes_the_published_stars(division: str, stars_by_points: dict[int, int]) -> None:
    down, up = strokes(whole_ball(division, 600.0), Params())
    points: dict[int, set[int]] = {}
    for before, here in itertools.pairwise([*down, *up[1:]]):
        for spot in (before, here):
            face = spot.face if spot.face is not None else (here if spot is before else before).face
            if not spot.inner and face is not None:
                points.setdefault(face, set()).add(spot.edge if spot.face is not None else 100 + _place(spot))
    counts = sorted(len(tips) for tips in points.values())
    assert {n: counts.count(n) for n in set(counts)} == stars_by_points


def _place(spot: Spot) -> int:
    return hash(tuple(np.round(spot.at, 6) + 0.0))


@pytest.mark.parametrize("division", ["C8", "C10", "C8/14", "C10/32", "C10/42", "C6/8"])
def test_the_stroke_down_and_up_again_is_an_euler_circuit_of_all_legs(division: str) -> None:
    down, up = strokes(whole_ball(division, 600.0), Params())
    key = {id(spot): _place(spot) for spot in [*down, *up]}
    walked = nx.MultiGraph()
    for way in (down, up):
        walked.add_edges_from((key[id(a)], key[id(b)]) for a, b in itertools.pairwise(way))
    assert nx.is_eulerian(walked)
    assert max(walked.number_of_edges(a, b) for a, b in walked.edges()) == 1
    sides = sum(len(face.beyond) for face in stars(whole_ball(division), 2 / 3))
    assert walked.number_of_edges() == 2 * sides  # each point of each star has two legs


@pytest.mark.parametrize("division", ["C8", "C10", "C8/14", "C10/42"])
def test_down_ends_at_s_where_up_begins_and_up_ends_where_down_began(division: str) -> None:
    down, up = strokes(whole_ball(division, 600.0), Params())
    assert down[-1].at == pytest.approx(up[0].at)
    assert up[-1].at == pytest.approx(down[0].at)
    assert down[0].at[2] > 0.8
    assert down[-1].at[2] < -0.8


def test_rows_go_down_and_up_by_turns_or_round_in_one() -> None:
    site = whole_ball("C8")
    by_turns = list(stitch(site, Params(), [0.01] * 4))
    assert [row.strand for row in by_turns] == [0, 1, 0, 1]
    assert [row.number for row in by_turns] == [1, 2, 3, 4]
    assert not any(row.closed for row in by_turns)
    (round_,) = stitch(site, Params(strokes="round"), [0.01])
    assert round_.closed
    assert len(round_.places) == sum(len(row.places) for row in by_turns[:2]) - 2


def test_a_star_that_does_not_fit_its_face_is_refused() -> None:
    with pytest.raises(DesignError, match="no room for a star"):
        list(stitch(whole_ball("C10", 60.0), Params(), [0.01]))


def test_a_marking_without_faces_round_triangles_is_refused() -> None:
    with pytest.raises(DesignError, match="does divide the ball into faces"):
        strokes(whole_ball("S8"), Params())
