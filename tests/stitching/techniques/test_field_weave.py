"""Weaves that fill a figure."""

import numpy as np
import pytest
import shapely

from polestitch.errors import DesignError
from tests.stitching.techniques.woven import along_threads, goes_by_turns, woven_ball


@pytest.mark.parametrize("centre", ["line", "eye"])
@pytest.mark.parametrize("directions", [2, 3, 4])
def test_every_thread_goes_over_and_under_by_turns(directions: int, centre: str) -> None:
    params = {"at": "24 mm", "directions": directions, "apart": "5 mm", "centre": centre, "corners": 8}
    made = woven_ball("field_weave", "S8", "N", ", ".join(["1 navy"] * directions), params)
    found = [flags for flags in along_threads(made) if len(flags) > 1]
    assert len(found) > 10
    assert all(goes_by_turns(flags) for flags in found)


def test_threads_run_from_edge_to_edge_of_the_pentagon() -> None:
    # Seen from its middle in the gnomonic plane great circles are straight: a geometry library
    # (shapely) cuts the same threads.
    made = woven_ball("field_weave", "C10", "N", "1 navy, 1 white, 1 gold", {"at": "20 mm", "apart": "5 mm"})
    angle = made.ball.angle(20.0)
    turns = made.motifs[0].site.azimuths[::2]
    figure = shapely.Polygon(np.tan(angle) * np.stack([np.cos(turns), np.sin(turns)], axis=1))
    laid = made.laid
    ends = np.stack(
        [laid.at(np.arange(len(laid.sweep), dtype=np.int32), t) for t in (0 * laid.sweep, laid.sweep)], axis=1
    )
    flat = (ends @ made.motifs[0].frame)[..., :2] / (ends @ made.motifs[0].frame)[..., 2:]
    for one, two in flat:
        line = shapely.LineString([one, two])
        whole = shapely.LineString([one - 3 * (two - one), two + 3 * (two - one)])
        assert line.length == pytest.approx(whole.intersection(figure).length)
    assert len(flat) > 15


def test_parallels_lie_half_a_centimetre_apart() -> None:
    # Published (temaribarb.blogspot.com, forget-me-nots): lines 0.5 cm apart, the first from a corner
    # to the middle of the opposite side.
    made = woven_ball("field_weave", "C10", "N", "1 navy", {"at": "20 mm"})
    off = np.sort(made.ball.mm(1.0) * np.arcsin(np.abs(made.laid.normal @ made.motifs[0].middle)))
    assert off[0] == pytest.approx(0.0, abs=1e-9)
    assert off[1::2] == pytest.approx(5.0 * np.arange(1, len(off[1::2]) + 1))


def test_each_thread_begins_beside_the_end_of_the_one_before() -> None:
    made = woven_ball("field_weave", "S8", "N", "1 navy, 1 white", {"at": "20 mm", "directions": 2, "corners": 4})
    for row in made.motifs[0].rows:
        under = made.ball.mm(1.0) * 2 * row.half[1:]
        assert np.all(under < 12.0)


@pytest.mark.parametrize(
    ("params", "rows", "told"),
    [
        ({"corners": 3}, "1 navy", "do not divide"),
        ({"apart": "0.1 mm"}, "1 navy", "less than one thread"),
        ({"at": "5 mm", "apart": "9 mm"}, "1 navy", "less than two threads"),
        ({"directions": 2}, "3 navy", "more entries"),
    ],
)
def test_what_cannot_be_woven_is_refused(params: dict[str, object], rows: str, told: str) -> None:
    with pytest.raises(DesignError, match=told):
        woven_ball("field_weave", "S8", "N", rows, params)
