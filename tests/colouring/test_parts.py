"""Mirrors, bands, stripes and layers, against published counts, textbook formulas and counting one by one."""

import itertools
import math
from collections.abc import Sequence

import networkx as nx
import numpy as np
import pytest
from scipy.spatial.transform import Rotation

from polestitch.colouring.counting import colourings, different_plans, kinds_of_turn
from polestitch.colouring.grading import graded_plans, shares
from polestitch.colouring.plans import Wanted, colour_plans, layer_turns
from polestitch.colouring.rules import Parts, Rules, graph, parts_at, parts_in_turn, parts_meeting
from polestitch.colouring.search import best_plans, contrasting_plans
from polestitch.colouring.turns import turns
from polestitch.errors import DesignError
from polestitch.sphere.arcs import Points
from tests.builds import built
from tests.colouring.test_colouring import CUBE, DODECAHEDRON, EDGES, ICOSAHEDRON, OCTAHEDRON, counted, spots

FREE = [Rules(k, neighbours_differ=False) for k in (1, 2, 3, 4)]


@pytest.mark.parametrize(
    ("solid", "published"),
    [
        (EDGES, [1, 144, 12111, 358120]),  # OEIS A199406, edges of the cube up to rotation and reflection
        # Recomputed from the mirror groups' permutations with numpy alone; no sequence number was at hand.
        (CUBE, [1, 10, 56, 220]),
        (OCTAHEDRON, [1, 22, 267, 1996]),
        (DODECAHEDRON, [1, 82, 5379, 148648]),
        (ICOSAHEDRON, [1, 9436, 29131965]),
    ],
)
def test_mirrored_copies_are_counted_once_where_she_asks(solid: tuple[str, str], published: list[int]) -> None:
    assert [counted(solid, rules, mirrors=True) for rules in FREE[: len(published)]] == published


def test_all_points_of_a_ball_together_make_the_published_number() -> None:
    """OEIS A356685: the 26 points of the nine mirrors of the cube, coloured at once, up to rotation."""
    at = np.concatenate([spots(*CUBE), spots(*OCTAHEDRON), spots(*EDGES)])
    kinds = np.repeat(np.arange(3), [6, 8, 12])
    ways = turns(at, kinds)
    assert [different_plans(parts_at(at), rules, ways) for rules in FREE[:3]] == [1, 2802752, 105912891117]


def test_neighbours_differ_up_to_rotation_and_reflection() -> None:
    """OEIS A334356: proper colourings of the cube's corners up to rotation and reflection."""
    proper = [Rules(k) for k in (2, 3, 4, 5)]
    assert [counted(OCTAHEDRON, rules, mirrors=True) for rules in proper] == [1, 15, 154, 1115]
    # By exhaustive search: the octahedron's and the icosahedron's corners up to rotation, at most so many colours.
    assert [counted(CUBE, rules) for rules in proper] == [0, 1, 10, 55]
    assert [counted(DODECAHEDRON, Rules(k)) for k in (2, 3, 4)] == [0, 0, 4]
    assert counted(DODECAHEDRON, Rules(4), mirrors=True) == 2


def _six_axes() -> tuple[Points, Points]:
    """The six fivefold axes of the rotation group of the icosahedron, as scipy has it, and its 60 matrices."""
    group = Rotation.create_group("I")
    fifths = [r.as_rotvec() for r in group if math.isclose(r.magnitude(), 2 * math.pi / 5, abs_tol=1e-9)]
    axes: list[Points] = []
    for turn in fifths:
        axis = turn / np.linalg.norm(turn)
        if all(abs(axis @ known) < 0.99 for known in axes):
            axes.append(axis)
    return np.array(axes), group.as_matrix()


def test_bands_lie_about_axes_that_have_no_upper_end() -> None:
    """Six bands in two threads, turned copies counted once: told one by one over the 60 rotations of scipy."""
    axes, group = _six_axes()
    at = np.stack([axes, -axes], axis=1)
    both = at.reshape(12, 3)
    ways = {tuple(order[::2] // 2) for order in turns(both, np.zeros(12, dtype=np.intp))}
    moved = [np.abs(axes @ matrix.T @ axes.T).argmax(axis=1) for matrix in group]
    assert {tuple(order) for order in moved} == ways
    plans = set(itertools.product(range(2), repeat=6))
    orbits = {min(tuple(np.array(plan)[order].tolist()) for order in moved) for plan in plans}
    counted_ = different_plans(parts_at(at), Rules(2, neighbours_differ=False), [np.array(way) for way in ways])
    assert counted_ == len(orbits) == 8


def test_a_layer_of_bands_may_be_turned_upside_down() -> None:
    band = {"technique": "band", "where": "all equators", "rows": "1 navy"}
    made = built(band, division="C8")
    assert len({tuple(way) for way in layer_turns(made.motifs, 0)}) == 6  # three bands, in any order
    assert colour_plans(made.motifs, 0, Rules(3, neighbours_differ=False)).different == 10  # multisets of 3 of 3


def test_poles_of_one_ball_swap_with_all_that_lies_on_them() -> None:
    """Two layers at both poles: upside down takes each to its like."""
    flower = {"technique": "polygon", "where": "N and S", "rows": "1 navy", "params": {"corners": 4, "at": "15 mm"}}
    made = built(flower, {**flower, "params": {"corners": 4, "at": "25 mm"}})
    assert [len(layer_turns(made.motifs, k)) for k in (0, 1)] == [2, 2]


@pytest.mark.parametrize(("count", "colours"), list(itertools.product((1, 2, 5, 9), (1, 2, 3, 4))))
def test_stripes_are_counted_by_the_textbook_formula(count: int, colours: int) -> None:
    """Chromatic polynomials of a path, k (k - 1)^(n - 1), and of a ring, (k - 1)^n + (-1)^n (k - 1)."""
    rules = Rules(colours)
    assert colourings(graph(parts_in_turn(count), rules), rules) == colours * (colours - 1) ** (count - 1)
    if count > 2:
        ring = (colours - 1) ** count + (-1) ** count * (colours - 1)
        assert colourings(graph(parts_in_turn(count, ring=True), rules), rules) == ring


def test_layers_are_as_far_apart_as_networkx_finds_them() -> None:
    meeting = np.array([[0, 1], [1, 2], [3, 4]])
    parts = parts_meeting(5, meeting)
    lengths = dict(nx.all_pairs_shortest_path_length(nx.Graph(meeting.tolist())))
    for i, j in itertools.product(range(5), repeat=2):
        assert parts.distances[i, j] == lengths[i].get(j, 5)  # those that never meet count as farthest


@pytest.mark.parametrize("seed", range(6))
def test_contrast_is_the_best_there_is(seed: int) -> None:
    """Every plan tried: none has a larger least difference between neighbours."""
    chance = np.random.default_rng(seed)
    unlike = np.triu(chance.uniform(5, 90, (4, 4)), 1)
    unlike += unlike.T
    parts = parts_in_turn(6, ring=seed % 2 == 1)
    found = contrasting_plans(parts, Rules(4, ((0, 3),) * 4), (np.arange(6),), unlike)
    all_ = [plan for plan in itertools.product(range(4), repeat=6) if max(map(plan.count, range(4))) <= 3]
    steps = [least for plan in all_ if (least := _least(plan, parts, unlike)) > 0]
    assert found.proven
    assert found.worst[0] == pytest.approx(max(steps))
    assert [_least(plan, parts, unlike) for plan in found.plans] == pytest.approx(list(found.worst))


def _least(plan: Sequence[int], parts: Parts, unlike: Points) -> float:
    return float(min(unlike[plan[i], plan[j]] for i, j in parts.beside))


@pytest.mark.slow
def test_like_threads_are_as_far_apart_as_can_be() -> None:
    """Every plan of eight spots tried."""
    at = spots(*OCTAHEDRON)
    parts, rules = parts_at(at), Rules(3, ((2, 3),) * 3, neighbours_differ=False)
    found = best_plans(parts, rules, turns(at, np.zeros(8, dtype=np.intp)))

    def nearest(plan: Sequence[int]) -> float:
        return min(parts.distances[i, j] for i, j in itertools.combinations(range(8), 2) if plan[i] == plan[j])

    all_ = [p for p in itertools.product(range(3), repeat=8) if all(2 <= p.count(c) <= 3 for c in range(3))]
    assert found.worst[0] == pytest.approx(max(map(nearest, all_)))


def test_threads_asked_for_too_often_are_told() -> None:
    panes = {"technique": "polygon", "where": "all centres", "rows": "1 navy", "params": {"at": "15 mm"}}
    made = built(panes, division="C8")
    with pytest.raises(DesignError, match="wanted 8 times"):
        colour_plans(made.motifs, 0, Rules(2, ((4, 6), (4, 6))))
    with pytest.raises(DesignError, match="allowed 4 times"):
        colour_plans(made.motifs, 0, Rules(2, ((1, 2), (1, 2))))
    mirrored = colour_plans(made.motifs, 0, Rules(2, neighbours_differ=False), Wanted(mirrors=True))
    assert mirrored.turns == 48


def test_graded_threads_go_in_even_runs() -> None:
    named = dict(graded_plans(7, [0.9, 0.2, 0.5]))
    assert named["dark to light"] == (1, 1, 2, 2, 0, 0, 0)
    assert named["light to dark"] == (0, 0, 2, 2, 1, 1, 1)
    assert named["light in the middle"] == (1, 2, 0, 0, 0, 2, 1)
    assert all(plan == plan[::-1] for name, plan in named.items() if "middle" in name)
    assert shares(7, [(1, 2), (0, 7), (3, 3)]) == [2, 2, 3]
    assert shares(7, [(1, 2), (1, 2)]) is None
    assert graded_plans(3, [0.1, 0.9], ((2, 3), (2, 3))) == []


@pytest.mark.slow
@pytest.mark.parametrize(
    "uses", [((1, 8),) * 3, ((2, 3), (0, 8), (1, 2)), ((4, 4), (4, 4)), ((2, 8), (2, 8)), ((3, 3), (3, 3), (2, 2))]
)
@pytest.mark.parametrize("neighbours_differ", [True, False])
def test_threads_used_so_often_are_counted_as_one_by_one(
    uses: tuple[tuple[int, int], ...], neighbours_differ: bool
) -> None:
    """Every colouring of eight spots tried, and one kept of those that are turns of each other."""
    at = spots(*OCTAHEDRON)
    parts, ways = parts_at(at), turns(at, np.zeros(8, dtype=np.intp))
    kept = set()
    for plan in itertools.product(range(len(uses)), repeat=8):
        often = all(least <= plan.count(c) <= most for c, (least, most) in enumerate(uses))
        if often and not (neighbours_differ and any(plan[i] == plan[j] for i, j in parts.beside)):
            kept.add(min(tuple(np.array(plan)[way].tolist()) for way in ways))
    assert different_plans(parts, Rules(len(uses), uses, neighbours_differ), ways) == len(kept)


def test_turns_are_of_five_kinds_on_a_ball_of_ten() -> None:
    """Conjugacy classes of the rotations of the icosahedron: 1, 15, 20, 12 and 12 turns."""
    at = spots(*DODECAHEDRON)
    kinds = kinds_of_turn(turns(at, np.zeros(12, dtype=np.intp)))
    assert sorted(like for _, like in kinds) == [1, 12, 12, 15, 20]
