"""Colour plans against published counts of coloured solids."""

import itertools
import math

import numpy as np
import pytest

from polestitch.colouring import Rules, colour_plans
from polestitch.colouring.counting import colourings, different_plans
from polestitch.colouring.rules import apart, beside, graph, parts_at
from polestitch.colouring.search import best_plans
from polestitch.colouring.turns import turns
from polestitch.errors import DesignError
from polestitch.marking.divisions import marked
from polestitch.sphere.arcs import Points
from tests.builds import built


def spots(division: str, kind: str) -> Points:
    return np.array([point.at for point in marked(division).points if point.kind == kind])


CUBE, OCTAHEDRON, EDGES = ("C8", "centre"), ("C8", "triangle"), ("C8", "diamond")
DODECAHEDRON, ICOSAHEDRON, THIRTY = ("C10", "centre"), ("C10", "triangle"), ("C10", "diamond")


def counted(solid: tuple[str, str], rules: Rules, mirrors: bool = False) -> int | None:
    at = spots(*solid)
    return different_plans(parts_at(at), rules, turns(at, np.zeros(len(at), dtype=np.intp), mirrors))


@pytest.mark.parametrize(
    ("solid", "published"),
    [
        (CUBE, [1, 10, 57, 240, 800, 2226]),  # OEIS A047780, faces of the cube
        (OCTAHEDRON, [1, 23, 333, 2916, 16725, 70911]),  # OEIS A000543, faces of the octahedron
        (DODECAHEDRON, [1, 96, 9099, 280832]),  # OEIS A000545, faces of the dodecahedron
        (EDGES, [1, 218, 22815, 703760]),  # OEIS A060530, edges of the cube
        (THIRTY, [1, 17912448, 3431529649899]),  # OEIS A282670, edges of the icosahedron
        (ICOSAHEDRON, [1, 17824, 58130055]),  # OEIS A054472, faces of the icosahedron
    ],
)
def test_free_colourings_are_the_published_ones(solid: tuple[str, str], published: list[int]) -> None:
    assert [counted(solid, Rules(k, neighbours_differ=False)) for k in range(1, len(published) + 1)] == published


def test_six_colours_once_each_make_thirty_cubes() -> None:
    """MacMahon's cubes (from memory)."""
    assert counted(CUBE, Rules(6, ((1, 1),) * 6, neighbours_differ=False)) == 30


def test_the_dodecahedron_needs_four_colours() -> None:
    """Its faces can be coloured with four in 240 ways, four of them different (chromatic polynomial; from memory)."""
    at = spots(*DODECAHEDRON)
    assert [colourings(graph(parts_at(at), Rules(k)), Rules(k)) for k in (1, 2, 3, 4)] == [0, 0, 0, 240]
    assert counted(DODECAHEDRON, Rules(4)) == 4


@pytest.mark.parametrize(("solid", "order"), [(CUBE, 24), (OCTAHEDRON, 24), (DODECAHEDRON, 60), (ICOSAHEDRON, 60)])
def test_turns_are_the_rotation_groups(solid: tuple[str, str], order: int) -> None:
    at = spots(*solid)
    assert len(turns(at, np.zeros(len(at), dtype=np.intp))) == order


@pytest.mark.parametrize(
    ("solid", "values"),
    [
        (CUBE, [0, 0, 6, 96]),  # chromatic polynomial of the octahedron's graph (from memory)
        (OCTAHEDRON, [0, 2, 114, 2652]),  # of the cube's graph (from memory)
    ],
)
def test_colourings_are_values_of_the_chromatic_polynomial(solid: tuple[str, str], values: list[int]) -> None:
    at = spots(*solid)
    assert [colourings(graph(parts_at(at), Rules(k)), Rules(k)) for k in (1, 2, 3, 4)] == values
    for colours in (2, 3):  # and counted out one by one
        all_ = itertools.product(range(colours), repeat=len(at))
        brute = sum(all(plan[i] != plan[j] for i, j in beside(apart(at))) for plan in all_)
        assert brute == values[colours - 1]


def test_three_colours_on_a_cube_face_each_other() -> None:
    """Neighbours differ, three threads: only opposite faces can match, and there is one such ball each way round."""
    at = spots(*CUBE)
    found = best_plans(parts_at(at), Rules(3), turns(at, np.zeros(6, dtype=np.intp)))
    assert found.proven
    assert found.worst[0] == pytest.approx(math.pi)
    assert counted(CUBE, Rules(3)) == len(found.plans) == 1


@pytest.mark.slow
def test_plans_shown_are_different_and_keep_the_rules() -> None:
    at = spots(*ICOSAHEDRON)
    group = turns(at, np.zeros(20, dtype=np.intp))
    rules = Rules(4, ((5, 5),) * 4, opposite="differ")
    found = best_plans(parts_at(at), rules, group)
    assert len(found.plans) == 12
    for plan in found.plans:
        assert sorted(plan) == sorted([0, 1, 2, 3] * 5)
        assert all(plan[i] != plan[j] for i, j in beside(apart(at)))
    turned = {tuple(np.array(plan)[turn]) for plan in found.plans for turn in group}
    assert len({min(tuple(int(c) for c in np.array(plan)[turn]) for turn in group) for plan in found.plans}) == 12
    assert len(turned) <= 12 * 60


def test_a_layer_of_a_design_is_planned() -> None:
    layer = {
        "name": "panes",
        "technique": "polygon",
        "where": "all centres",
        "rows": "1 navy",
        "params": {"at": "15 mm"},
    }
    made = built(layer, division="C8")
    plans = colour_plans(made.motifs, 0, Rules(3))
    assert plans.spots[0] == "N"
    assert plans.turns == 24
    assert plans.different == 1
    with pytest.raises(DesignError, match="one more thread"):
        colour_plans(made.motifs, 0, Rules(2))
