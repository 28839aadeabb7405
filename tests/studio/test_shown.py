"""Whatever is in a document: there is a scene and figures, or a sentence; never a crash."""

import copy
import json
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from polestitch.errors import DesignError
from polestitch.scene import decoded
from polestitch.studio import shown
from polestitch.studio.answers import figures_answer, scene_answer
from polestitch.studio.examples import example_texts

Raw = Any
SMALL = {
    "format": 1,
    "name": "Buoy",
    "ball": {"around": "20 cm", "colour": "#16233a"},
    "maker": {"hand": "left"},
    "threads": [{"name": "red", "colour": "#b5472b"}, {"name": "gold", "colour": "#d9b24a", "metallic": True}],
    "marking": {"division": "S6+obi", "support": [{"name": "ring", "around": "N", "at": "20 mm"}]},
    "layers": [
        {"name": "petals", "technique": "uwagake", "where": "N", "rows": "2 red"},
        {"name": "quay", "technique": "band", "where": "obi", "rows": "1 gold"},
        {
            "name": "rigging",
            "technique": "zigzag",
            "where": "obi",
            "rows": "1 red",
            "params": {"height": "6 mm"},
            "under": [{"layer": "quay"}],
        },
    ],
}
OTHERS: list[Raw] = [
    None,
    True,
    -1,
    0,
    1e9,
    "",
    "N",
    "all lines",
    "9999 red",
    "until edge: 1 red",
    "1 mm",
    [],
    {},
    ["obi"],
]


def places(value: Raw, at: tuple[Any, ...] = ()) -> list[tuple[Any, ...]]:
    """Every key of every group and every place of every list."""
    keys = value.keys() if isinstance(value, dict) else range(len(value)) if isinstance(value, list) else ()
    return [path for key in keys for path in ((*at, key), *places(value[key], (*at, key)))]


PLACES = places(SMALL)


@pytest.mark.slow
@settings(max_examples=120, deadline=None, suppress_health_check=list(HealthCheck))
@given(st.lists(st.tuples(st.sampled_from(PLACES), st.sampled_from(OTHERS)), min_size=1, max_size=3))
def test_a_document_with_anything_anywhere_is_answered(changes: list[tuple[tuple[Any, ...], Raw]]) -> None:
    raw: Raw = copy.deepcopy(SMALL)
    for path, value in changes:
        inner = raw
        try:
            for key in path[:-1]:
                inner = inner[key]
            inner[path[-1]] = copy.deepcopy(value)
        except (KeyError, IndexError, TypeError):
            continue  # an earlier change took the place away
    text = json.dumps(raw)
    scene = decoded(scene_answer(text, 1))
    figures = figures_answer(text, 1)
    assert scene.index["wrong"] == figures["wrong"]
    json.dumps(figures, allow_nan=False)


@pytest.mark.parametrize("text", ["", "[]", "{", "5", '{"a": 1e999}'])
def test_what_is_no_document_is_a_sentence(text: str) -> None:
    with pytest.raises(DesignError):
        scene_answer(text, 1)


def test_the_layers_that_can_be_made_are_shown_for_every_wrong_one() -> None:
    for k in range(3):
        raw: Raw = copy.deepcopy(SMALL)
        raw["layers"][k]["rows"] = "none"
        found = shown.shown(json.dumps(raw))
        assert found.wrong is not None
        assert found.wrong["where"] == f"layers[{k}].rows"
        # The rigging goes under the quay: without the one, the other cannot be.
        assert set(found.layers) == {0, 1, 2} - {k} - ({2} if k == 1 else set())


def test_the_marking_is_shown_where_no_thread_can_be() -> None:
    raw: Raw = {**copy.deepcopy(SMALL), "threads": "none"}
    scene = decoded(scene_answer(json.dumps(raw), 1))
    assert scene.index["plain"] == "6 lines from pole to pole and the obi, 12 triangles"
    assert scene.index["wrong"]["where"] == "threads"


def test_the_last_documents_are_remembered_and_no_more() -> None:
    for n in range(shown.REMEMBERED + 3):
        scene_answer(json.dumps({**SMALL, "notes": str(n)}), 1)
    assert len(shown._known) == shown.REMEMBERED


@pytest.mark.slow
def test_every_example_can_be_made() -> None:
    for text in example_texts().values():
        assert shown.shown(text).wrong is None
