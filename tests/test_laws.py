"""Laws that hold for every ball, whatever its design."""

import re
from dataclasses import replace
from typing import Any

import numpy as np
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from scipy.spatial.transform import Rotation

from polestitch.document.codec import read, written
from polestitch.document.design import Design
from polestitch.laying.cover import cover
from polestitch.laying.crossings import crossings
from polestitch.laying.laid import Laid
from polestitch.pipeline import Build, build

PER_MILLION = 1e-6
LENGTH = re.compile(r"([\d.]+) (mm|cm|m)(?= |$)")

SOME_LAYERS: list[dict[str, Any]] = [
    {"technique": "uwagake", "where": "N and S", "rows": "3 navy, 1 white"},
    {"technique": "polygon", "where": "N", "rows": "2 white, 2 navy", "params": {"corners": 5, "at": "9 mm"}},
    {"technique": "star", "where": "S", "rows": "4 navy", "params": {"points": 5, "step": 2}},
    {"technique": "spindle", "where": "odd lines", "rows": "5 white", "params": {"at": "15 mm from centre"}},
    {"technique": "band", "where": "obi", "rows": "2 navy, 2 white"},
    {"technique": "zigzag", "where": "obi", "rows": "1 navy", "params": {"height": "4 mm", "double": True}},
]


def document(chosen: list[int], around: float = 250.0) -> dict[str, Any]:
    """A design of some of the layers above on ten lines."""
    return {
        "format": 1,
        "name": "laws",
        "ball": {"around": f"{around} mm"},
        "maker": {"stretch": "2 mm", "bite": "1.5 mm", "working_length": "1000 mm"},
        "threads": [
            {"name": "navy", "colour": "#234", "rows_per_cm": 14},
            {"name": "white", "colour": "#eee", "rows_per_cm": 11},
        ],
        "marking": {"division": "S10+obi"},
        "layers": [{"name": f"layer {n}", **SOME_LAYERS[k]} for n, k in enumerate(chosen)],
    }


layer_lists = st.lists(st.integers(0, len(SOME_LAYERS) - 1), min_size=1, max_size=3)
few = settings(max_examples=12, deadline=None, suppress_health_check=[HealthCheck.too_slow])


def made(text: dict[str, Any]) -> Build:
    """The design built."""
    return build(Design.model_validate(text))


def turned(laid: Laid, seed: int) -> Laid:
    """The whole ball in another hand."""
    frame = Rotation.random(rng=np.random.default_rng(seed)).as_matrix()
    return replace(laid, normal=laid.normal @ frame.T, start=laid.start @ frame.T)


@few
@given(chosen=layer_lists, seed=st.integers(0, 10**6))
def test_turning_the_ball_changes_no_length_and_no_crossing(chosen: list[int], seed: int) -> None:
    laid = made(document(chosen)).laid
    other = turned(laid, seed)
    assert other.length.sum() == pytest.approx(laid.length.sum(), rel=PER_MILLION)
    assert len(crossings(other)) == len(crossings(laid))


@pytest.mark.slow
@settings(max_examples=4, deadline=None)
@given(chosen=layer_lists, seed=st.integers(0, 10**6))
def test_turning_the_ball_changes_no_cover_beyond_its_error(chosen: list[int], seed: int) -> None:
    laid = made(document(chosen)).laid
    one, two = cover(laid), cover(turned(laid, seed))
    assert two.share == pytest.approx(one.share, abs=one.error + two.error)


@few
@given(chosen=layer_lists)
def test_a_left_handers_ball_is_the_mirror_of_a_right_handers(chosen: list[int]) -> None:
    text = document(chosen)
    right = made(text)
    left = made({**text, "maker": {**text["maker"], "hand": "left"}})
    assert left.laid.length.sum() == pytest.approx(right.laid.length.sum(), rel=PER_MILLION)
    assert len(left.crossings) == len(right.crossings)
    assert left.over.sum() == right.over.sum()


def doubled(value: Any) -> Any:
    """Every length in a document twice as long, rows per centimetre half as many."""
    if isinstance(value, dict):
        return {key: item / 2 if key == "rows_per_cm" else doubled(item) for key, item in value.items()}
    if isinstance(value, list):
        return [doubled(item) for item in value]
    return LENGTH.sub(lambda m: f"{2 * float(m[1])} {m[2]}", value) if isinstance(value, str) else value


@few
@given(chosen=layer_lists)
def test_doubling_every_length_doubles_thread_and_leaves_rows_and_crossings_alone(chosen: list[int]) -> None:
    text = document(chosen)
    text["layers"] = [{**layer, "params": {"inner": "6 mm", **layer.get("params", {})}} for layer in text["layers"]]
    text["layers"] = [_only_known(layer) for layer in text["layers"]]
    one, two = made(text), made(doubled(text))
    thread = [made_.laid.length.sum() * made_.ball.radius_mm for made_ in (one, two)]
    assert thread[1] == pytest.approx(2 * thread[0], rel=PER_MILLION)
    assert len(two.laid.row_layer) == len(one.laid.row_layer)
    assert len(two.crossings) == len(one.crossings)


def _only_known(layer: dict[str, Any]) -> dict[str, Any]:
    """Uwagake's default inner start is a length, so the doubled document must say it; others have none."""
    if layer["technique"] == "uwagake":
        return layer
    return {**layer, "params": {key: item for key, item in layer["params"].items() if key != "inner"}}


@few
@given(chosen=layer_lists)
def test_a_document_read_back_is_the_same_document(chosen: list[int]) -> None:
    design = Design.model_validate(document(chosen))
    assert read(written(design)) == design
