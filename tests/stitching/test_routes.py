"""The faces of a ball, and the way past all of them, against a graph library."""

import networkx as nx
import pytest

from polestitch.errors import DesignError
from polestitch.stitching.routes import way_past_all
from polestitch.stitching.stars import Star, stars
from tests.stitching.sites import whole_ball


def touching(division: str) -> tuple[tuple[Star, ...], nx.Graph]:
    """Faces, and which of them touch."""
    faces = stars(whole_ball(division), 2 / 3)
    return faces, nx.Graph((k, other) for k, face in enumerate(faces) for other in face.beyond)


@pytest.mark.parametrize(
    ("division", "faces", "edges"), [("C8", 14, 36), ("C8/14", 14, 36), ("C10", 32, 90), ("C10/32", 32, 90)]
)
def test_the_faces_touch_as_those_of_the_truncated_solid(division: str, faces: int, edges: int) -> None:
    # 14 faces and 36 edges: truncated octahedron; 32 and 90: truncated icosahedron (Coxeter, from memory).
    _, graph = touching(division)
    assert (graph.number_of_nodes(), graph.number_of_edges()) == (faces, edges)
    assert nx.check_planarity(graph)[0]
    if faces == 32:
        # Faces round triangles touch each other as the corners of a dodecahedron do.
        sixes = graph.subgraph([node for node, degree in graph.degree() if degree == 6])
        assert nx.is_isomorphic(sixes, nx.dodecahedral_graph())


def test_a_way_past_all_is_a_simple_path_of_the_graph() -> None:
    faces, graph = touching("C10")
    first, last = (next(k for k, face in enumerate(faces) if face.name == pole) for pole in ("N", "S"))
    way = way_past_all({n: list(graph[n]) for n in graph}, first, last, lambda k: -float(faces[k].middle[2]))
    assert sorted(way) == sorted(graph)
    assert nx.is_simple_path(graph, list(way))
    assert (way[0], way[-1]) == (first, last)


# Forms with h = k, k = 0 and neither, on each base; on C6 S may be a corner, and the way ends beside it.
@pytest.mark.parametrize("division", ["C4/14", "C6/8", "C6/16(2,1)", "C8/66", "C10/72(2,1)", "C10/162", "C10/252"])
def test_a_multi_face_ball_has_a_way_past_all(division: str) -> None:
    faces, graph = touching(division)
    height = [float(face.middle[2]) for face in faces]
    order = sorted(range(len(faces)), key=height.__getitem__)
    way = way_past_all({n: list(graph[n]) for n in graph}, order[-1], order[0], lambda k: -round(height[k], 6))
    assert sorted(way) == sorted(graph)
    assert nx.is_simple_path(graph, list(way))


def test_a_ball_with_no_such_way_is_refused() -> None:
    star = nx.star_graph(4)  # a hub with four ends: no way passes all
    with pytest.raises(DesignError, match="no way"):
        way_past_all({n: list(star[n]) for n in star}, 1, 2, float)
