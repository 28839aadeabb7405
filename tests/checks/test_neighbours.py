"""Motifs side by side."""

from itertools import combinations
from typing import Any

import numpy as np
import pytest

from polestitch.checks.neighbours import narrowest
from tests.builds import SQUARE
from tests.checks.found import built, cured, of_kind, one_of
from tests.checks.measured import STEP_MM, Dense, nearest

PETALS: dict[str, Any] = {
    "technique": "polygon",
    "where": "all centres",
    "params": {"corners": 4, "at": "20 mm"},
    "start": "line 2",
}


# A centre and a diamond of a C8 lie 31 mm apart, so squares that start at 10 mm meet long before either is full.
BESIDE: dict[str, Any] = {**PETALS, "where": ["N", "diamond 1"], "start": "1", "params": {"corners": 4, "at": "10 mm"}}


def test_squares_that_cross_their_neighbours_collide_and_fewer_rows_keep_them_apart() -> None:
    wide = {**BESIDE, "rows": "16 navy"}
    finding = one_of(built(wide, division="C8"), "motifs collide")
    assert finding.severity == "care"
    assert finding.row is not None
    assert finding.row > 1
    assert not of_kind(cured(finding, wide, division="C8"), "motifs collide")
    again = {**BESIDE, "rows": f"{finding.row} navy"}
    assert of_kind(built(again, division="C8"), "motifs collide")


def test_a_collision_points_to_a_spot_where_both_threads_lie_and_names_the_first_row() -> None:
    made = built({**BESIDE, "rows": "16 navy"}, division="C8")
    finding = one_of(made, "motifs collide")
    dense, at = Dense(made), np.asarray(finding.at)[None]
    motifs = made.laid.row_motif
    first = None
    for row in range(len(motifs)):
        on = dense.mm(nearest(at, dense.of_row(row))[0])[0] < STEP_MM
        if on:
            assert first is None or motifs[row] != first
            first = motifs[row]
    assert first is not None
    # Brute force: squares of N and of the diamond come nearer than a thread's own step only where they cross.
    rows = {k: [np.flatnonzero((motifs == m) & (made.laid.row_number == k))[0] for m in (0, 1)] for k in range(1, 17)}
    apart = {k: dense.mm(nearest(*(dense.of_row(row) for row in pair))[0]).min() for k, pair in rows.items()}
    assert finding.row == min(k for k, mm in apart.items() if mm < STEP_MM)


def test_layered_motifs_are_meant_to_cross() -> None:
    layered = {**BESIDE, "rows": "16 navy", "combine": "layered"}
    assert not of_kind(built(layered, division="C8"), "motifs collide")


def test_bands_are_meant_to_cross() -> None:
    bands = {"technique": "band", "where": "all equators", "rows": "3 navy"}
    assert not of_kind(built(bands, division="C8"), "motifs collide")


def test_an_overrun_is_not_told_again_as_a_collision() -> None:
    far = {**PETALS, "rows": "40 navy"}
    made = built(far, division="C8")
    assert of_kind(made, "overrun")
    assert not of_kind(made, "motifs collide")


@pytest.mark.slow
def test_motifs_until_their_neighbours_leave_no_bald_gap_when_rows_are_fine() -> None:
    squares = {**PETALS, "rows": "until neighbours: 1 navy"}
    assert not of_kind(built(squares, division="C8"), "bald gap")


@pytest.mark.parametrize(("at", "bald"), [(12.0, True), (13.0, False)])
def test_where_a_star_starts_decides_whether_its_last_step_leaves_a_bald_gap(at: float, bald: bool) -> None:
    # Stars step about 2 mm at their points, so up to 2 mm each side of the border can stay free.
    stars = {"technique": "star", "where": "all centres", "rows": "until neighbours: 1 navy", "combine": "layered"}
    found = of_kind(built({**stars, "params": {"points": 5, "at": f"{at} mm"}}, division="C10"), "bald gap")
    assert bool(found) == bald
    assert all(finding.severity == "note" for finding in found)


def test_the_narrowest_gap_is_that_of_dense_points() -> None:
    stars = {"technique": "star", "where": "all centres", "rows": "until neighbours: 1 navy", "combine": "layered"}
    made = built({**stars, "params": {"points": 5, "at": "12 mm"}}, division="C10")
    found, finding = narrowest(made, made.motifs), one_of(made, "bald gap")
    dense, last = Dense(made), len(made.motifs[0].rows)
    rows = [dense.row_of(0, motif.place, last) for motif in made.motifs]
    gaps = [dense.mm(nearest(dense.of_row(a), dense.of_row(b))[0]).min() for a, b in combinations(rows, 2)]
    pitch = made.ball.mm(made.motifs[0].rows[-1].pitch)
    assert made.ball.mm(found.bare) == pytest.approx(min(gaps) - pitch, abs=STEP_MM)
    at = np.asarray(finding.at)[None]
    away = sorted(dense.mm(nearest(at, dense.of_row(row))[0])[0] for row in rows)
    assert away[:2] == pytest.approx([min(gaps) / 2] * 2, abs=STEP_MM)


def test_one_motif_alone_has_no_neighbours() -> None:
    assert not of_kind(built(SQUARE), "motifs collide")
