"""Both poles at once: laps, bites, and the way over the equator."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from polestitch.errors import DesignError
from polestitch.pipeline import build
from polestitch.stitching.techniques.both_poles import Params, stitch
from tests.stitching.crafts import design_of
from tests.stitching.sites import site


def test_ten_lines_in_two_sets_of_five_come_home_after_two_laps() -> None:
    # Published: http://www.temarikai.com/patterns/StitchAlongs/tem0801.html
    for which in (1, 2):
        (row,) = stitch(site("poles", 250.0, 10), Params(set=which), [0.017])
        assert row.laps == 2
        assert len(row.spokes) == 10
        assert {spoke % 2 for spoke in row.spokes} == {which % 2}


@given(half=st.integers(2, 20))
def test_every_line_of_the_set_has_one_bite_near_each_pole(half: int) -> None:
    rows = list(stitch(site("poles", 250.0, 2 * half), Params(), [0.01]))
    bites = [(spoke, place[2] > 0) for row in rows for spoke, place in zip(row.spokes, row.places)]
    assert sorted(bites) == sorted({(line, pole) for line in range(1, 2 * half, 2) for pole in (False, True)})
    assert {row.laps for row in rows} == ({2} if half % 2 else {1})


def test_north_and_south_mirror_each_other() -> None:
    rows = list(stitch(site("poles", 250.0, 8), Params(), [0.017] * 3))
    places = np.round(np.concatenate([row.places for row in rows]), 9) + 0.0
    assert {tuple(p) for p in places.tolist()} == {tuple(p) for p in (places * [1, 1, -1]).tolist()}


def test_the_thread_crosses_the_equator_on_the_line_half_way_without_a_bite() -> None:
    (row,) = stitch(site("poles", 250.0, 10), Params(), [0.001])
    for spoke, via in zip(row.spokes, row.via):
        middle = via.mean(axis=0)
        assert np.degrees(np.arctan2(middle[1], middle[0])) % 360 == pytest.approx(36 * (spoke - 1) + 36)
        assert middle[2] == pytest.approx(0.0, abs=1e-12)
    assert np.all(np.abs(row.places[:, 2]) > 0.9)


def test_all_rows_pass_between_the_keeper_pins() -> None:
    made = build(design_of("both_poles", "S10", rows="9 navy", params={"bundle": "6 mm"}))
    (motif,) = made.motifs
    for row in motif.rows:
        spots = np.concatenate(row.via)
        azimuth = np.degrees(np.arctan2(spots[:, 1], spots[:, 0]))
        off = np.abs((azimuth + 18) % 36 - 18) / 360 * 250.0
        assert np.all(off < 3.0)


def test_an_odd_division_is_worked_on_every_line() -> None:
    with pytest.raises(DesignError, match='write "every"'):
        list(stitch(site("poles", 250.0, 9), Params(), [0.01]))
    (row,) = stitch(site("poles", 250.0, 9), Params(lines="every"), [0.01])
    assert (row.laps, len(row.spokes)) == (2, 18)


def test_naming_both_ends_of_an_axis_is_refused() -> None:
    with pytest.raises(DesignError, match="it means both"):
        build(design_of("both_poles", "S10", where="N and S"))
