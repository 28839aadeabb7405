"""Spans led through places without a bite, and strokes that come up elsewhere."""

from dataclasses import replace

import numpy as np
import pytest

from polestitch.laying.settle import settled
from polestitch.sphere.arcs import arc_angle, cross, dot, unit
from polestitch.stitching.strokes import spots, stroke_row
from polestitch.stitching.techniques import both_poles, spindle, uwagake
from tests.stitching.sites import site

NOWHERE = np.zeros((0, 3))


def test_a_span_runs_taut_from_keeper_pin_to_keeper_pin() -> None:
    (row,) = both_poles.stitch(site("poles", 250.0, 10), both_poles.Params(), [0.01])
    (thread,) = settled([row])
    for k, chain in enumerate(thread.chains):
        assert np.array_equal(chain[1:-1], row.via[k])
        assert np.array_equal(chain[0], row.leaves[k])
        assert np.array_equal(chain[-1], np.roll(row.enters, -1, axis=0)[k])


@pytest.mark.parametrize("made", ["spindle", "uwagake"])
def test_leaning_with_no_place_to_pass_is_leaning_as_ever(made: str) -> None:
    craft, here = (spindle, site("arc", 250.0, 2)) if made == "spindle" else (uwagake, site("centre", 250.0, 8))
    rows = list(craft.stitch(here, craft.Params(), [0.017] * 5))
    passing = [replace(row, via=(NOWHERE,) * len(row.half)) for row in rows]
    assert rows[-1].narrow.any()
    for one, two in zip(settled(rows), settled(passing)):
        for mine, theirs in zip(one.chains, two.chains):
            assert np.allclose(mine, theirs)


def test_a_leaning_span_still_passes_where_it_is_led() -> None:
    rows = list(uwagake.stitch(site("centre", 250.0, 8), uwagake.Params(), [0.017] * 4))
    middles = [unit(row.leaves + np.roll(row.enters, -1, axis=0)) for row in rows]
    led = [replace(row, via=tuple(m[:, None, :])) for row, m in zip(rows, middles)]
    for row, thread in zip(led, settled(led)):
        for via, chain in zip(row.via, thread.chains):
            assert float(arc_angle(chain, via).min()) == 0.0
    # The tips lean as before: each chain keeps corners beside its former tips.
    assert max(len(chain) for chain in settled(led)[-1].chains) > 3


def test_a_stroke_lies_between_where_it_comes_up_and_where_it_goes_in() -> None:
    here = site("centre", 250.0, 6)
    ups, ends = spots(here.azimuths, np.full(6, 0.1)), spots(here.azimuths, np.full(6, 0.4))
    (thread,) = settled([stroke_row(here, (1, 0.01, 0), ups, ends)])
    assert len(thread.chains) == 6
    for up, end, chain in zip(ups, ends, thread.chains):
        assert np.array_equal(chain, np.stack([up, end]))
        assert dot(cross(up, end), np.array([0.0, 0.0, 1.0])) == pytest.approx(0.0, abs=1e-12)


def test_the_way_under_the_wrap_is_as_long_as_from_end_to_next_start() -> None:
    here = site("centre", 250.0, 6)
    ups, ends = spots(here.azimuths, np.full(6, 0.1)), spots(here.azimuths, np.full(6, 0.4))
    row = stroke_row(here, (1, 0.01, 0), ups, ends)
    assert 2 * row.half == pytest.approx(arc_angle(row.enters, row.leaves))
    assert arc_angle(row.enters, np.roll(ends, 1, axis=0)) == pytest.approx(0.0, abs=1e-12)
