"""Ties: strokes across bundles or across a band."""

import numpy as np
import pytest

from polestitch.document.design import Design
from polestitch.pipeline import build
from polestitch.sphere.arcs import arc_angle
from polestitch.stitching.techniques.tie import Params, stitch
from tests.stitching.sites import site

MM = 250.0 / (2 * np.pi)


@pytest.mark.parametrize(("across", "axis"), [("lines", 2), ("circle", 1)])
def test_a_tie_runs_square_to_what_it_holds(across: str, axis: int) -> None:
    (row,) = stitch(site("circle", 250.0, 8), Params.model_validate({"across": across, "length": "6 mm"}), [0.01])
    ups, ends = row.leaves, np.roll(row.enters, -1, axis=0)
    assert arc_angle(ups, ends) * MM == pytest.approx(6.0)
    assert (ups - ends)[0, axis] == pytest.approx(0.0, abs=1e-12)


def test_rows_lie_one_thread_apart_on_both_sides_of_the_first() -> None:
    rows = stitch(site("circle", 250.0, 8), Params(), [0.01] * 5)
    heights = [float(np.arcsin(row.leaves[0, 2])) for row in rows]
    assert np.diff(sorted(heights)) == pytest.approx(0.01)


def test_ties_catch_every_bundle_of_a_ball_worked_at_both_poles() -> None:
    # Published: after both poles at once the bundles at the equator are tied (temarikai.com, on jyouge douji).
    layers = [
        {"name": "petals", "technique": "both_poles", "where": "N", "rows": "3 navy", "params": {"bundle": "4 mm"}},
        {"name": "ties", "technique": "tie", "where": "obi", "rows": "1 gold", "params": {"length": "8 mm"}},
    ]
    made = build(
        Design.model_validate(
            {
                "name": "merry-go-round",
                "ball": {"around": "250 mm"},
                "threads": [{"name": name, "colour": "#345"} for name in ("navy", "gold")],
                "marking": {"division": "S10+obi"},
                "layers": layers,
            }
        )
    )
    tied = made.laid.row_layer[made.laid.arc_row[made.crossings.second]] == 1
    # Five bundles of 2 legs x 3 rows; each leg crosses the tie on the equator once.
    assert np.count_nonzero(tied) == 5 * 2 * 3
