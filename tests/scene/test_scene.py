"""The buffers: what the screen draws is what was laid, in laying order."""

import numpy as np
import pytest

from polestitch.marking.divisions import marked
from polestitch.pipeline import Build, build
from polestitch.scene import Scene, scene
from polestitch.scene.words import plain_words
from tests.scene.samples import SAMPLE

SINGLE = 1e-6


@pytest.fixture(scope="module")
def made() -> Build:
    return build(SAMPLE)


@pytest.fixture(scope="module")
def shown(made: Build) -> Scene:
    return scene(made, 1)


def test_rows_hold_all_arcs_in_laying_order(made: Build, shown: Scene) -> None:
    rows = np.repeat(np.arange(len(shown.arrays["row_arcs"])), shown.arrays["row_arcs"])
    assert np.array_equal(rows, made.laid.arc_row)


def test_normals_and_start_directions_are_square_unit_vectors(shown: Scene) -> None:
    arcs = shown.arrays["arcs"].astype(float)
    normal, e1 = arcs[:, :3], arcs[:, 4:7]
    assert np.isfinite(arcs).all()
    for vectors in (normal, e1):
        np.testing.assert_allclose(np.linalg.norm(vectors, axis=1), 1, atol=SINGLE)
    np.testing.assert_allclose((normal * e1).sum(axis=1), 0, atol=SINGLE)


def test_an_arc_unpacked_as_the_screen_does_ends_where_the_thread_ends(made: Build, shown: Scene) -> None:
    arcs = shown.arrays["arcs"].astype(float)
    normal, offset, e1, t = arcs[:, :3], arcs[:, 3:4], arcs[:, 4:7], arcs[:, 7:8]
    flat = np.cos(t) * e1 + np.sin(t) * np.cross(normal, e1)
    ends = offset * normal + np.sqrt(1 - offset**2) * flat
    index = np.arange(len(arcs), dtype=np.int32)
    np.testing.assert_allclose(ends, made.laid.at(index, made.laid.sweep), atol=5 * SINGLE)


def test_overs_name_the_earlier_thread_where_it_lies_on_top(made: Build, shown: Scene) -> None:
    overs = shown.arrays["overs"]
    turned = np.flatnonzero(~made.over)
    assert len(turned) > 0
    assert np.array_equal(overs.view(np.uint32)[:, 3], made.crossings.first[turned])
    np.testing.assert_allclose(np.linalg.norm(overs[:, :3], axis=1), 1, atol=SINGLE)


def test_thread_on_bare_ground_lies_lowest(made: Build, shown: Scene) -> None:
    met = made.crossings
    crossing = np.union1d(met.first, met.second)
    free = np.setdiff1d(np.arange(len(made.laid.sweep)), crossing)
    assert (shown.arrays["lift"][free] == 0).all()
    over = np.where(made.over, met.second, met.first)
    assert (shown.arrays["lift"][over] > 0).all()


def test_layers_are_counted(made: Build, shown: Scene) -> None:
    layers = shown.index["layers"]
    assert [layer["name"] for layer in layers] == ["petals", "quay", "rigging"]
    assert sum(layer["spans"] for layer in layers) == len(made.laid.span_row)
    assert sum(sum(layer["rows"]) for layer in layers) == shown.index["rows"]


@pytest.mark.parametrize(
    ("division", "words"),
    [
        # Coxeter, Regular Polytopes, from memory: the icosahedron has 12 corners, 20 faces, 30 edges;
        # the octahedron 6, 8, 12.
        ("C10", "12 centres in pentagons, 20 triangles, 30 diamonds"),
        ("C8", "6 centres in squares, 8 triangles, 12 diamonds"),
        ("C4", "6 centres, 8 triangles"),
        ("S8", "8 lines from pole to pole, 8 wedges"),
        ("S16+obi", "16 lines from pole to pole and the obi, 32 triangles"),
    ],
)
def test_a_division_is_told_in_plain_words(division: str, words: str) -> None:
    assert plain_words(marked(division)) == words
