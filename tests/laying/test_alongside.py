"""How far like legs lie apart, against dense points and a k-d tree."""

from typing import Any

import numpy as np
import pytest
from numpy.typing import NDArray

from polestitch.laying.alongside import Alongside, alongside
from polestitch.pipeline import Build
from tests.builds import KIKU, SQUARE, built
from tests.checks.measured import STEP_MM, Dense, nearest

Floats = NDArray[np.float64]
# Dense points stand 0.02 mm apart: no place of a thread is farther than half of that from one, which at a thread's
# distance is worth 0.0001 mm, and where threads cross half of it.
HALF_A_STEP_MM = STEP_MM / 2 + 1e-3
ONE_PERCENT = 0.01  # between samples, which stand a thread or two apart
SPINDLE = {"technique": "spindle", "where": "odd lines", "rows": "4 navy", "params": {"at": "1/2 from edge"}}
STAR = {"technique": "star", "where": "N", "rows": "5 navy, 3 white", "params": {"points": 5, "at": "30 mm"}}
CASES = [(KIKU, "S8+obi"), (SQUARE, "S8+obi"), (SPINDLE, "S8+obi"), (STAR, "S10")]
each_case = pytest.mark.parametrize(("layer", "division"), CASES, ids=["kiku", "square", "spindle", "star"])


def legs_of(made: Build) -> list[tuple[int, int, int]]:
    """Row (from 0), leg and the row before of the first motif, all legs that have a like one."""
    rows = made.motifs[0].rows
    return [(k, leg, k - 1) for k in range(1, len(rows)) for leg in range(len(rows[k].half))]


def brute(made: Build, dense: Dense, leg: tuple[int, int, int]) -> tuple[Floats, Floats]:
    """Points of a leg outside the bites, and their distances from its like in threads."""
    motif = made.motifs[0]
    k, which, before = leg
    mine, like = (dense.of_leg(dense.row_of(0, motif.place, n + 1), which) for n in (k, before))
    chord, index = nearest(mine, like)
    row, ends = motif.rows[k], (which, (which + 1) % len(motif.rows[k].half))
    half = [0.0 if row.wide[end] else max(row.half[end], motif.rows[before].half[end]) for end in ends]
    free = [dense.mm(np.asarray(h + row.pitch / 2)) for h in half]
    along = index * STEP_MM
    kept = (along > along[0] + free[0]) & (along < along[-1] - free[1])
    return mine[kept], dense.mm(chord[kept]) / made.ball.mm((row.pitch + motif.rows[before].pitch) / 2)


@each_case
def test_every_sample_lies_as_far_from_its_like_as_the_nearest_dense_point(
    layer: dict[str, Any], division: str
) -> None:
    made = built(layer, division=division)
    dense, place, legs = Dense(made), made.motifs[0].place, alongside(made.laid, made.motifs[0])
    seen = 0
    for k, leg, before in legs_of(made):
        here = legs.only(np.flatnonzero(legs.row == k))
        later, like = (dense.of_leg(dense.row_of(0, place, n + 1), leg) for n in (k, before))
        here = here.only(np.flatnonzero(dense.mm(nearest(here.at, later)[0]) < HALF_A_STEP_MM))
        apart = dense.mm(nearest(here.at, like)[0])
        assert apart == pytest.approx(made.ball.mm(1.0) * here.apart, abs=HALF_A_STEP_MM)
        seen += len(here)
    assert seen >= len(legs)


@each_case
def test_the_widest_and_the_nearest_places_are_those_of_dense_points(layer: dict[str, Any], division: str) -> None:
    made = built(layer, division=division)
    dense, legs = Dense(made), alongside(made.laid, made.motifs[0])
    threads = legs.apart / legs.width
    found = np.concatenate([brute(made, dense, leg)[1] for leg in legs_of(made)])
    assert threads.max() == pytest.approx(found.max(), rel=ONE_PERCENT)
    assert threads.min() == pytest.approx(found.min(), rel=ONE_PERCENT)


def test_threads_led_between_pins_are_measured_as_far_as_the_pins() -> None:
    made = built({"technique": "both_poles", "where": "N", "rows": "3 navy", "params": {}}, division="S10")
    legs, motif = alongside(made.laid, made.motifs[0]), made.motifs[0]
    level = np.abs(np.arcsin(legs.at[:, 2]))
    for k, row in enumerate(motif.rows[1:], 1):
        pins = min(float(np.abs(np.arcsin(via[:, 2])).min()) for via in row.via)
        assert level[legs.row == k].min(initial=np.inf) > pins  # in the bundle itself the legs cross over
    assert legs.width == pytest.approx(motif.rows[0].pitch)


def test_rows_that_lean_on_nothing_are_not_measured() -> None:
    bands = built({"technique": "band", "where": "obi", "rows": "4 navy"})
    one: Alongside = alongside(bands.laid, bands.motifs[0])
    assert len(one) == 0
    assert len(alongside(built({**SQUARE, "rows": "1 navy"}).laid, built({**SQUARE, "rows": "1 navy"}).motifs[0])) == 0
