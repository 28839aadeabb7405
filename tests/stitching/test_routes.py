"""The way past every face, and the route of one stroke, against a graph library."""

import itertools

import networkx as nx
import numpy as np
import pytest

from polestitch.ball.ball import Ball
from polestitch.document.design import Layer, Maker
from polestitch.errors import DesignError
from polestitch.marking.divisions import marked
from polestitch.stitching.routes import way_past_all
from polestitch.stitching.seats import seats
from polestitch.stitching.site import Site
from polestitch.stitching.stars import Star, stars
from polestitch.stitching.techniques.one_stroke import Params, Spot, strokes


def whole_ball(division: str) -> Site:
    """The site of a technique that works all over the ball."""
    layer = Layer(name="one", technique="one_stroke", where="ball", rows="1 navy")
    (seat,) = seats("ball", layer, marked(division), Ball(240.0), Maker())
    return seat.site


def touching(division: str) -> tuple[tuple[Star, ...], nx.Graph]:
    """Faces, and which of them touch."""
    faces = stars(whole_ball(division).points, 2 / 3)
    return faces, nx.Graph((k, other) for k, face in enumerate(faces) for other in face.beyond)


# Published one-stroke ball (temarikai.com, GT57): offset pentagons on a C10 of 24 cm give 20 six-point
# and 12 five-point stars.  C8 likewise makes the 14-face ball, the learner's one: 8 and 6.
@pytest.mark.parametrize(("division", "stars_by_points"), [("C10", {6: 20, 5: 12}), ("C8", {6: 8, 4: 6})])
def test_one_stroke_makes_the_published_stars(division: str, stars_by_points: dict[int, int]) -> None:
    down, up = strokes(whole_ball(division), Params())
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


@pytest.mark.parametrize("division", ["C8", "C10"])
def test_the_stroke_down_and_up_again_is_an_euler_circuit_of_all_legs(division: str) -> None:
    down, up = strokes(whole_ball(division), Params())
    key = {id(spot): _place(spot) for spot in [*down, *up]}
    walked = nx.MultiGraph()
    for way in (down, up):
        walked.add_edges_from((key[id(a)], key[id(b)]) for a, b in itertools.pairwise(way))
    assert nx.is_eulerian(walked)
    assert max(walked.number_of_edges(a, b) for a, b in walked.edges()) == 1
    sides = sum(len(face.beyond) for face in touching(division)[0])
    assert walked.number_of_edges() == 2 * sides  # each point of each star has two legs


@pytest.mark.parametrize(("division", "faces", "edges"), [("C8", 14, 36), ("C10", 32, 90)])
def test_the_faces_touch_as_those_of_the_truncated_solid(division: str, faces: int, edges: int) -> None:
    # 14 faces and 36 edges: truncated octahedron; 32 and 90: truncated icosahedron (networkx has both duals' graphs).
    known = {14: nx.truncated_tetrahedron_graph, 32: nx.icosahedral_graph}
    _, graph = touching(division)
    assert (graph.number_of_nodes(), graph.number_of_edges()) == (faces, edges)
    assert nx.check_planarity(graph)[0]
    if faces == 32:
        # Faces round triangles touch each other as the corners of a dodecahedron do.
        sixes = graph.subgraph([node for node, degree in graph.degree() if degree == 6])
        assert nx.is_isomorphic(sixes, nx.dodecahedral_graph())
        assert known[32]().number_of_nodes() == faces - len(sixes)


def test_a_way_past_all_is_a_simple_path_of_the_graph() -> None:
    faces, graph = touching("C10")
    first, last = (next(k for k, face in enumerate(faces) if face.name == pole) for pole in ("N", "S"))
    way = way_past_all({n: list(graph[n]) for n in graph}, first, last, lambda k: -float(faces[k].middle[2]))
    assert sorted(way) == sorted(graph)
    assert nx.is_simple_path(graph, list(way))
    assert (way[0], way[-1]) == (first, last)


def test_a_ball_with_no_such_way_is_refused() -> None:
    star = nx.star_graph(4)  # a hub with four ends: no way passes all
    with pytest.raises(DesignError, match="no way"):
        way_past_all({n: list(star[n]) for n in star}, 1, 2, float)
