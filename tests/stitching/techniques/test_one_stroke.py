"""One stroke over the whole ball, against a graph library."""

import itertools

import networkx as nx
import numpy as np
import pytest

from polestitch.document.lengths import Length
from polestitch.errors import DesignError
from polestitch.laying.settle import settled
from polestitch.sphere.arcs import Points, arc_angle
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
    for spot in [*down, *up]:
        if not spot.inner:
            points.setdefault(spot.face, set()).add(spot.edge)
    counts = sorted(len(tips) for tips in points.values())
    assert {n: counts.count(n) for n in set(counts)} == stars_by_points


def _place(spot: Spot) -> int:
    return hash(tuple(np.round(spot.at, 6) + 0.0))


@pytest.mark.parametrize("division", ["C8", "C10", "C8/14", "C10/32", "C10/42", "C6/8"])
def test_the_stroke_down_and_up_again_is_an_euler_circuit_of_all_legs(division: str) -> None:
    down, up = strokes(whole_ball(division, 600.0), Params())
    walked, leaps = nx.MultiGraph(), nx.Graph()
    for a, b in [*itertools.pairwise(down), *itertools.pairwise(up)]:
        (walked if a.face == b.face else leaps).add_edge(_place(a), _place(b))
    legs = walked.number_of_edges()
    assert max(walked.number_of_edges(a, b) for a, b in walked.edges()) == 1
    for a, b in leaps.edges():  # two tips that face each other across an edge are one place of the stroke
        walked = nx.contracted_nodes(walked, a, b)
    assert nx.is_eulerian(walked)
    sides = sum(len(face.beyond) for face in stars(whole_ball(division), 2 / 3))
    assert legs == 2 * sides  # each point of each star has two legs


@pytest.mark.parametrize("division", ["C8", "C10", "C8/14", "C10/42"])
def test_down_ends_at_s_where_up_begins_and_up_ends_where_down_began(division: str) -> None:
    down, up = strokes(whole_ball(division, 600.0), Params())
    assert down[-1].at == pytest.approx(up[0].at)
    assert up[-1].at == pytest.approx(down[0].at)
    assert down[0].at[2] > 0.8
    assert down[-1].at[2] < -0.8


@pytest.mark.parametrize(("division", "alike"), [("C10", [(12, 5), (20, 6)]), ("C8/14", [(6, 4), (8, 6)])])
def test_every_star_looks_like_its_like(division: str, alike: list[tuple[int, int]]) -> None:
    # However the thread comes into a star and leaves it: of one kind all have the same legs round their middles.
    site, params = whole_ball(division, 250.0), Params(short=Length("5 mm"))
    faces, ways = stars(site, 2 / 3), strokes(site, params)
    rows = list(stitch(site, params, [0.018] * 6))
    shapes: dict[int, list[tuple[float, ...]]] = {n: [] for n in range(len(faces))}
    for row, lying in zip(rows, settled(rows)):
        for k, chain in enumerate(lying.chains):
            here, there = ways[row.strand][k : k + 2]
            if here.face == there.face:
                shapes[here.face].append(_seen_from(faces[here.face].middle, chain))
    kinds = {count: [sorted(shapes[n]) for n, face in enumerate(faces) if len(face.beyond) == k] for count, k in alike}
    for count, same in kinds.items():
        assert len(same) == count
        np.testing.assert_allclose(
            same, np.broadcast_to(same[0], np.shape(same)), atol=0.018 / 20
        )  # a twentieth of a thread


def _seen_from(middle: Points, chain: Points) -> tuple[float, ...]:
    """How far a leg's nearer and farther end lie from its star's middle, and how long it is; rounded to sort alike."""
    ends = sorted(float(arc_angle(middle, end)) for end in (chain[0], chain[-1]))
    return tuple(np.round([*ends, float(arc_angle(chain[:-1], chain[1:]).sum())], 7).tolist())


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
