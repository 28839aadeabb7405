"""The whole pipeline where it must say no, and where there is nothing to lay."""

from collections.abc import Mapping
from dataclasses import replace

import numpy as np
import pytest

from polestitch import pipeline
from polestitch.document.design import Design, Maker
from polestitch.document.lengths import Length
from polestitch.errors import DesignError
from polestitch.laying.laid import Laid
from polestitch.laying.lay import lay
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
    huge = {"technique": "spindle", "where": "all lines", "rows": "120 white"}
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


@pytest.mark.parametrize("technique", ["uwagake", "polygon", "rose", "shitagake"])
def test_a_stretch_smaller_than_a_thread_is_one_thread(technique: str) -> None:
    layer = {"technique": technique, "where": "N", "rows": "9 white"}
    steps = {}
    for stretch in ("0.2 mm", "0.5 mm"):
        made = build(design("250 mm", layer).model_copy(update={"maker": Maker(stretch=Length(stretch))}))
        assert np.isfinite(made.laid.normal).all()
        assert np.isfinite(made.laid.sweep).all()
        steps[stretch] = made.motifs[0].rows[-1].places
    assert steps["0.2 mm"] == pytest.approx(steps["0.5 mm"], abs=1e-12)  # pearl 8 lies half a millimetre wide


def test_a_build_whose_thread_is_no_number_never_leaves_the_engine(monkeypatch: pytest.MonkeyPatch) -> None:
    layer = {"technique": "polygon", "where": "N", "rows": "3 white"}
    monkeypatch.setattr(pipeline, "lay", lambda motifs, order: broken(lay(motifs, order)))
    with pytest.raises(DesignError, match=r"layers\[0\]\.rows: row 2 of \"layer 0\" comes out where it goes in"):
        build(design("250 mm", layer))


def broken(laid: Laid) -> Laid:
    """The same thread, its second row's first arc no number."""
    normal = laid.normal.copy()
    normal[np.searchsorted(laid.arc_row, 1)] = np.nan
    return replace(laid, normal=normal)
