"""Hemp leaf: three sides and three ribs a triangle, every stroke once."""

import networkx as nx
import numpy as np
import pytest

from polestitch.pipeline import build
from polestitch.sphere.arcs import arc_angle
from polestitch.stitching.stitches import Row
from polestitch.stitching.techniques.hemp_leaf import Params, stitch
from tests.stitching.crafts import design_of
from tests.stitching.sites import site


def _drawing(row: Row) -> "nx.Graph":
    """Places as nodes, strokes as edges; networkx counts."""
    spots = [tuple(np.round(spot, 6) + 0.0) for spot in (*row.leaves, *np.roll(row.enters, -1, axis=0))]
    count = len(row.half)
    return nx.Graph(list(zip(spots[:count], spots[count:])))


@pytest.mark.parametrize("points", [5, 6, 8])
def test_a_leaf_of_n_triangles_has_five_strokes_a_triangle(points: int) -> None:
    # Three sides of which two are shared with the next triangle, and three ribs: 3 n + 2 n strokes.
    (row,) = stitch(site("centre", 250.0, points), Params(), [0.01])
    drawing = _drawing(row)
    assert drawing.number_of_edges() == len(row.half) == 5 * points
    degrees = sorted(dict(drawing.degree).values())
    # Middles have 3 ribs; rim corners 2 rim sides, 1 spoke and 2 ribs; the centre its spokes and ribs.
    assert degrees == sorted([3] * points + [5] * points + [2 * points])


def test_ribs_meet_as_far_from_every_corner_of_an_even_triangle() -> None:
    made = build(design_of("hemp_leaf", "C8", where="all triangles", params={"figure": "triangle"}))
    assert len(made.motifs) == 8  # published: eight triangles on a C8
    row = made.motifs[0].rows[0]
    assert len(row.half) == 6
    lengths = arc_angle(row.leaves[:3], np.roll(row.enters, -1, axis=0)[:3])
    assert lengths == pytest.approx(lengths[0])


def test_both_orders_draw_the_same_figure() -> None:
    one, two = (
        next(iter(stitch(site("centre", 250.0, 8), Params(order=o), [0.01]))) for o in ("centre first", "frame first")
    )
    assert nx.utils.graphs_equal(_drawing(one), _drawing(two))
    assert arc_angle(one.leaves[0], np.array([0.0, 0.0, 1.0])) < 1e-9  # centre first starts in the centre
    assert arc_angle(two.leaves[0], np.array([0.0, 0.0, 1.0])) > 0.1


def test_a_second_row_doubles_the_outline_only() -> None:
    first, second = stitch(site("centre", 250.0, 8), Params(), [0.01, 0.01])
    assert (len(first.half), len(second.half)) == (40, 16)
