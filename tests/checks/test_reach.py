"""Motifs that reach too far, crowd their centre, or cannot grow to a point."""

from math import gcd
from typing import Any

import numpy as np
import pytest

from tests.builds import KIKU, SQUARE
from tests.checks.found import built, cured, of_kind, one_of
from tests.checks.measured import Dense, nearest

Layer = dict[str, Any]


def long_kiku(rows: int) -> Layer:
    return {**KIKU, "rows": f"{rows} navy"}


def test_tips_beyond_the_obi_are_an_overrun_and_its_remedy_ends_before_it() -> None:
    made = built(long_kiku(20))
    finding = one_of(made, "overrun")
    # first tips at 31.25 mm, 2 mm a row: row 17 stands at 63.25, past the obi at 62.5
    assert (finding.severity, finding.layer, finding.row, finding.address) == ("care", 0, 17, "N")
    assert "the obi" in finding.sentence
    assert finding.remedy == {"path": "layers[0].rows", "value": "16 navy"}
    assert not of_kind(cured(finding, long_kiku(20)), "overrun")


def test_a_kiku_that_stops_before_the_obi_is_no_overrun() -> None:
    assert not of_kind(built(long_kiku(16)), "overrun")


def test_interlocked_motifs_must_reach_past_their_edge() -> None:
    square = {**SQUARE, "name": "links", "where": "all centres", "params": {"at": "8/7 from centre"}}
    alone = one_of(built(square, division="C8"), "overrun")
    linked = built({**square, "under": [{"layer": "links", "rule": "interlocked"}]}, division="C8")
    assert (alone.severity, one_of(linked, "overrun").severity) == ("care", "note")


def test_an_overrun_points_to_the_tip_that_reaches_farthest() -> None:
    made = built(long_kiku(20))
    finding, dense = one_of(made, "overrun"), Dense(made)
    at = np.asarray(finding.at)
    farthest = np.arccos(dense.points[:, 2].min()) * made.ball.radius_mm
    quarter = 250 / 4
    assert np.arccos(at[2]) * made.ball.radius_mm == pytest.approx(farthest, abs=0.1)  # the bite is 1.5 mm wide
    assert f"in the end by {np.arccos(at[2]) * made.ball.radius_mm - quarter:.1f}" in finding.sentence
    assert dense.mm(nearest(at[None], dense.points)[0])[0] < 0.8  # half a bite


def test_rows_worked_in_layers_run_into_their_neighbours_as_layers_do() -> None:
    pentagons = {**SQUARE, "where": "all centres", "rows": "6 navy", "params": {"corners": 4, "at": "8/7 from centre"}}
    layered = one_of(built({**pentagons, "combine": "layered"}, division="C8"), "overrun")
    assert layered.severity == "note"
    assert "row by row" in layered.sentence
    alone = built({**pentagons, "where": "N", "combine": "layered"}, division="C8")
    assert one_of(alone, "overrun").severity == "care"  # nothing is there to run into


def test_a_motif_past_the_neighbouring_centre_must_stop() -> None:
    star = {"technique": "star", "where": "N", "rows": "30 navy", "params": {"points": 5, "at": "3/4 from centre"}}
    finding = one_of(built(star, division="C10"), "overrun")
    assert finding.severity == "stop"
    assert "neighbouring centre" in finding.sentence


def test_a_square_worked_inward_stops_before_it_steps_over_its_middle() -> None:
    inward: Layer = {**SQUARE, "rows": "30 navy", "params": {"corners": 4, "at": "15 mm", "grow": "inward"}}
    finding = one_of(built(inward), "overrun")
    assert finding.severity == "stop"
    # Corner angle of a square on a ball: tan a = 1 / cos r, 47 degrees at 15 mm and 45 in the middle, so rows step
    # 0.98 to 1.01 mm: 15 of them after the first are room enough, the 17th row is over.
    assert finding.row == 17
    assert not of_kind(cured(finding, inward), "overrun")


def test_spindle_tips_past_the_end_of_their_line_overrun() -> None:
    spindle = {"technique": "spindle", "where": "line 1", "rows": "20 navy", "params": {"at": "1/2 from centre"}}
    assert "line 1" in one_of(built(spindle), "overrun").sentence


def test_inner_bites_that_reach_half_way_to_their_neighbours_crowd_the_centre() -> None:
    close: Layer = {**KIKU, "rows": "14 navy", "params": {"outer": "1/2 from obi", "inner": "3 mm", "inner_step": 0.5}}
    finding = one_of(built(close, division="S16"), "crowded centre")
    assert finding.row is not None
    row = built(close, division="S16").motifs[0].rows[finding.row - 1]
    # The worst row is the last, and the bites' ends are where laid legs end: the overlap is told as they lie.
    made = built(close, division="S16")
    last, laid = made.motifs[0].rows[-1], made.laid
    spans = np.flatnonzero(laid.span_row == len(laid.row_number) - 1)
    arcs = [np.flatnonzero(laid.arc_span == span) for span in spans]
    come_out = np.stack([laid.start[each[0]] for each in arcs])
    go_in = np.stack([laid.at(each[-1:].astype(np.int32), laid.sweep[each[-1:]])[0] for each in arcs])
    bites = [(np.roll(go_in, 1, axis=0)[k], come_out[k]) for k in np.flatnonzero(last.wide)]
    widths = [np.arccos(a @ b) for a, b in bites]
    gap = np.arccos(last.places[np.flatnonzero(last.wide)[0]] @ last.places[np.flatnonzero(last.wide)[1]])
    over = made.ball.mm(float(widths[0] / 2 + widths[1] / 2 - gap))
    assert f"by {over:.1f}".removesuffix(".0") in finding.sentence
    assert f"in row {last.number}" in finding.sentence
    # Outside check: chord between neighbouring inner bites against the chords of their half-widths.
    inner = np.flatnonzero(row.wide)
    chord = np.linalg.norm(row.places[inner[0]] - row.places[inner[1]])
    assert 2 * np.sin(row.half[inner[0]]) > chord - 1e-3
    assert not of_kind(cured(finding, close, division="S16"), "crowded centre")


def test_inner_bites_far_out_do_not_crowd() -> None:
    assert not of_kind(built(long_kiku(6)), "crowded centre")


def test_a_stretch_under_one_thread_makes_blunt_tips() -> None:
    maker = {"stretch": "0.5 mm"}
    finding = one_of(built(long_kiku(3), maker=maker), "blunt tip")
    assert "0.5 mm" in finding.sentence
    # Published stretch of size 5: about 2 mm (temarikai.com/HowToPages/stretchpoints.html).
    assert finding.remedy == {"path": "maker.stretch", "value": "2 mm"}
    assert not of_kind(cured(finding, long_kiku(3), maker=maker), "blunt tip")


def test_a_measured_step_under_one_thread_is_mended_where_it_stands() -> None:
    maker = {"stretch": "2 mm", "measures": {"step": {"length": "0.5 mm", "spread": "0.1 mm"}}}
    finding = one_of(built(long_kiku(3), maker=maker), "blunt tip")
    assert finding.remedy == {"path": "maker.measures.step.length", "value": "2 mm"}
    assert not of_kind(cured(finding, long_kiku(3), maker=maker), "blunt tip")


@pytest.mark.parametrize(("points", "step"), [(10, 4), (10, 3), (8, 2), (16, 6)])
def test_a_star_whose_step_shares_a_factor_reaches_only_some_points(points: int, step: int) -> None:
    star: Layer = {"technique": "star", "where": "N", "rows": "1 navy", "params": {"points": points, "step": step}}
    division = f"S{points}"
    found = of_kind(built(star, division=division), "path does not close")
    assert bool(found) == (gcd(points, step) > 1)
    for finding in found:
        assert f"{points // gcd(points, step)} of its {points} points" in finding.sentence
        if finding.remedy:
            assert not of_kind(cured(finding, star, division=division), "path does not close")
