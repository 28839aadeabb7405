"""The order of stitching: against every order there is, a general graph library, and rings made on purpose."""

from itertools import permutations

import networkx as nx
import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from benchmarks.heavy_balls import Trip, laid_of, legs
from polestitch.laying.crossings import Crossings, crossings
from polestitch.laying.demands import demands
from polestitch.laying.laid import Laid
from polestitch.laying.order import stitching_order
from polestitch.laying.tangled import EXACT, Tangle, arranged
from polestitch.laying.weave import UnderRule, over, passes
from polestitch.sphere.arcs import move, toward, unit
from tests.builds import KIKU, SQUARE, built
from tests.laying.hand_laid import Hand, scattered, tangle
from tests.laying.test_weave import PITCH, X, Y, Z, wound


def turns(count: int, seed: int) -> tuple[Laid, Crossings, np.ndarray]:
    """Great circles, each a motif of its own, over and under by chance."""
    hand = Hand()
    for normal in scattered(count, seed):
        hand.turn(normal)
    laid = hand.laid()
    met = crossings(laid)
    return laid, met, np.random.default_rng(seed).random(len(met)) < 0.5


def unders(met: Crossings, flags: np.ndarray, order: tuple[int, ...]) -> int:
    """Crossings whose upper thread an order lays first."""
    place = np.argsort(order)
    one, two = place[met.laid.arc_row[met.first]], place[met.laid.arc_row[met.second]]
    return int(np.count_nonzero(np.where(flags, one > two, two > one)))


@pytest.mark.slow
@settings(max_examples=20, deadline=None)
@given(st.integers(0, 2**31 - 1), st.integers(2, 6))
def test_no_order_of_a_few_rows_does_better(seed: int, count: int) -> None:
    laid, met, flags = turns(count, seed)
    found = stitching_order(laid, met, flags)
    best = min(unders(met, flags, order) for order in permutations(range(count)))
    assert found.unders == unders(met, flags, found.threads) == best
    assert found.certain
    assert found.given == unders(met, flags, tuple(range(count)))


@pytest.mark.slow
@settings(max_examples=20, deadline=None)
@given(st.integers(0, 2**31 - 1), st.integers(2, 25))
def test_a_proof_is_a_shortest_ring(seed: int, count: int) -> None:
    laid, met, flags = turns(count, seed)
    found = stitching_order(laid, met, flags)
    graph = nx.DiGraph(map(tuple, demands(laid, met, flags, "rows").soft.tolist()))
    if nx.is_directed_acyclic_graph(graph):
        assert (found.proof, found.unders) == ((), 0)
        return
    ring = found.proof
    assert all(graph.has_edge(one, two) for one, two in zip(ring, (*ring[1:], ring[0])))
    assert len(ring) == shortest(graph)


def shortest(graph: nx.DiGraph) -> int:
    """Length of the shortest directed ring, from every thread breadth first."""
    lengths = dict(nx.all_pairs_shortest_path_length(graph))
    return min(lengths[two][one] + 1 for one, two in graph.edges if one in lengths[two])


@pytest.mark.slow
@settings(max_examples=15, deadline=None)
@given(st.integers(0, 2**31 - 1), st.integers(EXACT + 1, 30))
def test_many_rows_get_no_worse_an_order_than_given_and_an_honest_bound(seed: int, count: int) -> None:
    laid, met, flags = turns(count, seed)
    found = stitching_order(laid, met, flags)
    assert sorted(found.threads) == list(range(count))
    assert found.least <= found.unders == unders(met, flags, found.threads) <= found.given


@settings(max_examples=15, deadline=None)
@given(st.integers(0, 2**31 - 1))
def test_the_bound_of_many_is_never_above_the_best_of_few(seed: int) -> None:
    chance = np.random.default_rng(seed)
    pairs = np.array([(i, j) for i in range(7) for j in range(7) if i != j and chance.random() < 0.4], dtype=np.intp)
    tangle_ = Tangle(np.arange(7), pairs, chance.integers(1, 9, len(pairs)), np.zeros((0, 2), dtype=np.intp))
    best = arranged(tangle_)
    # The same seven among enough others, loose, that the general way is taken.
    many = Tangle(np.arange(EXACT + 1), tangle_.soft, tangle_.weight, tangle_.hard)
    general = arranged(many)
    place = np.argsort(general.threads)
    broken = int(many.weight[place[pairs[:, 0]] > place[pairs[:, 1]]].sum())
    assert general.least <= best.least <= broken


def test_the_nearest_relation_needs_no_needle_in_that_order() -> None:
    laid, met, flags = turns(9, 5)
    found = stitching_order(laid, met, flags)
    assert found.unders
    assert unders(met, found.nearest, found.threads) == 0
    assert np.count_nonzero(found.nearest != flags) == found.unders


def test_a_layer_under_all_of_another_is_laid_first() -> None:
    laid = wound(X, Y, turns=2)
    met = crossings(laid)
    found = stitching_order(laid, met, over(laid, met, (UnderRule(1, 0, "all"),)))
    assert (found.threads, found.unders, found.given, found.proof) == ((2, 3, 0, 1), 0, 8, ())


def test_three_threads_in_a_ring_are_their_own_proof() -> None:
    # X under Y under Z under X: the Borromean weave.
    laid = wound(X, Y, Z, turns=1)
    met = crossings(laid)
    flags = over(laid, met, (UnderRule(2, 0, "all"),))
    found = stitching_order(laid, met, flags)
    assert sorted(found.proof) == [0, 1, 2]
    assert (found.unders, found.certain) == (2, True)
    assert passes(laid, met, flags).passes.tolist() == [0, 0, 2]


def test_a_row_under_itself_has_no_order() -> None:
    a = np.array([np.cos(0.3), -np.sin(0.3), 0.0])
    row = [a, move(a, toward(a, Y), 0.6), unit(X + 0.4 * Z), unit(X - 0.4 * Z)]
    trip: Trip = legs(np.array(row[:3:2]), np.array(row[1::2]), 0, 0, 1)
    laid = laid_of([trip], PITCH)
    met = crossings(laid)
    assert len(met) == 1
    assert stitching_order(laid, met, np.array([True])).proof == ()
    assert stitching_order(laid, met, np.array([False])).proof == (0,)


@pytest.mark.parametrize("by", ["rows", "spans"])
def test_rows_of_a_motif_and_legs_of_a_row_keep_their_order(by: str) -> None:
    made = built(
        {**KIKU, "rows": "4 navy"}, {**SQUARE, "params": {"corners": 4, "at": "25 mm"}, "under": [{"layer": "layer 1"}]}
    )
    found = stitching_order(made.laid, made.crossings, made.over, "rows" if by == "rows" else "spans")
    row = np.array(found.threads) if by == "rows" else made.laid.span_row[list(found.threads)]
    for layer in (0, 1):
        mine = np.array(found.threads)[made.laid.row_layer[row] == layer]
        assert np.all(np.diff(mine) > 0)
    assert found.unders == 0  # the square may simply be stitched first
    assert made.laid.row_layer[row[0]] == 1


def test_a_closing_bite_is_drawn_in_and_asks_for_nothing() -> None:
    made = built(KIKU)
    assert np.any(~made.over)  # its right leg lies over the left one, as at every other bite
    assert stitching_order(made.laid, made.crossings, made.over).given == 0
    assert passes(made.laid, made.crossings, made.over).crossings.sum() == 0


def test_without_rules_the_order_stays() -> None:
    laid = tangle(40)
    met = crossings(laid)
    assert stitching_order(laid, met, over(laid, met), "spans").threads == tuple(range(len(laid.span_row)))
