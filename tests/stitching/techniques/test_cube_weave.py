"""Cube weave."""

import itertools

import networkx as nx
import numpy as np
import pytest

from polestitch.errors import DesignError
from polestitch.stitching.techniques.cube_weave import Params, beneath_bands, stitch
from tests.stitching.sites import whole_ball
from tests.stitching.techniques.woven import woven_ball

BALL_MM = 239.4  # 3 in across


# Published (temarikai.com, TB02): on a ball 3 in across 12 bands of 6 threads or 8 bands of 8.
@pytest.mark.parametrize(("bands", "threads", "turns"), [(12, 6, 72), (8, 8, 64)])
def test_the_published_bands_fill_the_way_from_pin_to_pin(bands: int, threads: int, turns: int) -> None:
    site = whole_ball("S6", BALL_MM)
    pitch = site.ball.angle(0.55)  # size 8, about 0.5 mm each as laid
    rows = list(stitch(site, Params(bands=bands, threads=threads, lined_up=False), [pitch] * 3))
    assert len(rows) == 3 * turns
    width = site.ball.mm(turns * pitch)
    assert width == pytest.approx(BALL_MM / 6, rel=0.12)  # the pins of a division into six stand C/6 apart


def test_each_band_goes_over_one_band_of_the_next_direction_and_under_two() -> None:
    params = Params(bands=6, threads=1)
    under = {
        (direction, band): set(plan.rows if (plan := beneath_bands(direction, band, params)) else ())
        for direction in range(3)
        for band in range(6)
    }
    number = {key: n + 1 for n, key in enumerate(itertools.product(range(3), range(6)))}
    for one, two in ((0, 1), (1, 2), (0, 2)):
        lies_over = np.array([[number[one, j] not in under[two, i] for j in range(6)] for i in range(6)])
        thirds = lies_over if one == 0 and two == 2 else ~lies_over
        assert thirds.sum(axis=0).tolist() == thirds.sum(axis=1).tolist() == [2] * 6


def test_where_three_bands_meet_no_ring_arises_and_each_colour_shows_in_a_third() -> None:
    # In the plane three numbers that add up to zero have floors that add up to -1 or -2: the triangles
    # between the bands' edges.  Each must have one band on top; two triangles side by side make the diamond.
    params = Params(bands=60, threads=1)
    middle = params.bands // 2
    rows = {key: n + 1 for n, key in enumerate(itertools.product(range(3), range(params.bands)))}
    plans = {key: beneath_bands(*key, params) for key in rows}
    tops = []
    for i, j in itertools.product(range(-6, 6), repeat=2):
        for total in (-1, -2):
            cell = [(0, middle + i), (1, middle + j), (2, middle + total - i - j)]
            graph = nx.DiGraph()
            for low, high in itertools.combinations(cell, 2):
                plan = plans[high]
                below = plan is not None and rows[low] in plan.rows
                graph.add_edge(*((low, high) if below else (high, low)))
            assert nx.is_directed_acyclic_graph(graph)
            tops.append(next(nx.topological_sort(graph))[0])
    assert [tops.count(direction) for direction in range(3)] == [96, 96, 96]


def test_the_ball_is_woven_as_planned() -> None:
    made = woven_ball("cube_weave", "S6", "ball", "1 navy, 1 white, 1 gold", {"bands": 6, "threads": 2})
    assert len(made.motifs[0].rows) == 36
    assert len(made.crossings) == 3 * 12 * 12 * 2  # every two turns of two directions cross twice
    direction = (made.laid.row_number - 1) // 12
    first, second = (direction[made.laid.arc_row[arcs]] for arcs in (made.crossings.first, made.crossings.second))
    share = {(a, b): made.over[(first == a) & (second == b)].mean() for a, b in ((0, 1), (1, 2), (0, 2))}
    assert share == pytest.approx({(0, 1): 2 / 3, (1, 2): 2 / 3, (0, 2): 1 / 3})


def test_the_edges_of_the_cubes_meet_three_at_a_point() -> None:
    site = whole_ball("S6", BALL_MM)
    pitch = site.ball.angle(0.55)
    rows = list(stitch(site, Params(bands=12, threads=6), [pitch] * 3))
    offs = np.array([np.arcsin(row.turn.offset) for row in rows[:72] if row.turn]).reshape(12, 6)
    edges = np.sin((offs[:-1, -1] + offs[1:, 0]) / 2)
    # Seen from above the pole three families of even lines at 120 degrees to each other meet in points.
    assert np.diff(edges) == pytest.approx(np.full(10, np.sin(6 * pitch)), rel=0.01)
    assert edges[5] == pytest.approx(0.0, abs=1e-12)


@pytest.mark.parametrize(
    ("division", "rows", "told"), [("S8", "1 navy", "does not divide"), ("S6", "4 navy", "three directions")]
)
def test_what_cannot_be_woven_is_refused(division: str, rows: str, told: str) -> None:
    with pytest.raises(DesignError, match=told):
        woven_ball("cube_weave", division, "ball", rows, {})
