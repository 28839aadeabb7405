"""The wire format, held to a golden file that the front end's test decodes too."""

import json
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from polestitch.pipeline import Build, build
from polestitch.scene import Scene, decoded, empty_scene, encoded, scene
from polestitch.scene.wire import TYPES
from tests.scene.samples import SAMPLE

GOLDEN = Path(__file__).parents[2] / "web/src/wire/golden"
# Single precision keeps seven digits of a number up to 2 pi.
SINGLE = 1e-6


@pytest.fixture(scope="module")
def made() -> Build:
    return build(SAMPLE)


def test_the_golden_file_still_says_what_is_built(made: Build) -> None:
    golden, now = decoded((GOLDEN / "scene.bin").read_bytes()), scene(made, 7)
    assert golden.index == json.loads(json.dumps(now.index))
    assert list(golden.arrays) == list(now.arrays)
    for name, array in now.arrays.items():
        assert golden.arrays[name].dtype == array.dtype
        np.testing.assert_allclose(golden.arrays[name], array, rtol=0, atol=SINGLE, err_msg=name)


def test_the_values_written_out_for_the_front_end_are_those_in_the_golden_file() -> None:
    values = json.loads((GOLDEN / "scene.json").read_text())
    golden = decoded((GOLDEN / "scene.bin").read_bytes())
    assert values["index"] == golden.index
    assert set(values["arrays"]) == set(golden.arrays)
    for name, listed in values["arrays"].items():
        assert np.array_equal(np.array(listed).astype(golden.arrays[name].dtype).ravel(), golden.arrays[name].ravel())


def test_every_array_begins_on_a_boundary_of_four_bytes(made: Build) -> None:
    data = encoded(scene(made, 1))
    length = int.from_bytes(data[:4], "little")
    told = json.loads(data[4 : 4 + length])["arrays"]
    assert length % 4 == 0
    assert all(each["at"] % 4 == 0 for each in told.values())
    assert len(data) % 4 == 0


def test_a_scene_with_nothing_on_it_goes_over_the_wire() -> None:
    bare = decoded(encoded(empty_scene(3, {"where": "ball", "what": "has no size"})))
    assert bare.index["wrong"] == {"where": "ball", "what": "has no size"}
    assert all(array.size == 0 for array in bare.arrays.values())
    assert bare.arrays["arcs"].shape == (0, 8)


@given(st.text(max_size=9), st.lists(st.integers(0, 255), max_size=9), st.sampled_from(sorted(TYPES)))
def test_whatever_is_sent_arrives(word: str, numbers: list[int], kind: str) -> None:
    sent = Scene({"plain": word.encode("utf-8", "replace").decode()}, {"one": np.array(numbers).astype(TYPES[kind])})
    got = decoded(encoded(sent))
    assert got.index == sent.index
    assert np.array_equal(got.arrays["one"], sent.arrays["one"])
