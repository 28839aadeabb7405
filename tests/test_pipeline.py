"""The whole pipeline where it must say no, and where there is nothing to lay."""

from collections.abc import Mapping

import pytest

from polestitch.document.design import Design
from polestitch.errors import DesignError
from polestitch.pipeline import build


def design(around: str, *layers: Mapping[str, object], division: str = "S64") -> Design:
    """A design on pearl 8."""
    named = [{"name": f"layer {k}", **layer} for k, layer in enumerate(layers)]
    return Design.model_validate(
        {
            "name": "pipeline",
            "ball": {"around": around},
            "threads": [{"name": "white", "colour": "#fff", "size": "pearl 8"}],
            "marking": {"division": division},
            "layers": named,
        }
    )


def test_a_tangle_no_ball_could_hold_is_refused_at_its_largest_layer() -> None:
    small = {"technique": "band", "where": "obi", "rows": "1 white"}
    huge = {"technique": "spindle", "where": "all lines", "rows": "60 white"}
    with pytest.raises(DesignError, match=r"layers\[1\]\.rows: lay so much thread .* million times; take fewer rows"):
        build(design("30 mm", small, huge))


def test_a_ball_that_is_only_marked_can_be_built() -> None:
    made = build(design("240 mm"))
    assert len(made.crossings) == 0
    assert made.cover.share == 0


def test_an_under_rule_turns_the_crossings_over() -> None:
    bands = {"technique": "band", "where": "all equators", "rows": "2 white"}
    plain = build(design("240 mm", bands, {**bands, "where": "circle 4"}, division="C8"))
    ruled = build(
        design("240 mm", bands, {**bands, "where": "circle 4", "under": [{"layer": "layer 0"}]}, division="C8")
    )
    assert plain.over.all()
    assert 0 < (~ruled.over).sum() < len(ruled.over)


def test_six_bands_make_thirty_crossings() -> None:
    # Icosidodecahedron: 6 great circles, V = n (n - 1) = 30 (any three of them never meet in a point).
    one = {"technique": "band", "where": "all equators", "rows": "1 white", "params": {"first": "on", "side": "left"}}
    assert len(build(design("240 mm", one, division="C10")).crossings) == 30
