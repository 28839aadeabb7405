"""Motifs that reach too far, crowd their centre, or cannot grow to a point."""

from math import gcd
from typing import Any

import numpy as np
import pytest

from tests.builds import KIKU, SQUARE
from tests.checks.found import built, cured, of_kind, one_of

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
