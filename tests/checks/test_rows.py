"""Rows that gape, rows that hide one another, threads that pile up: told as brute force measures them."""

import re
from dataclasses import replace
from math import radians
from typing import Any

import numpy as np
import pytest
from geographiclib.geodesic import Geodesic
from hypothesis import given
from hypothesis import strategies as st

from polestitch.checks import Finding
from polestitch.checks.rows import GAPING_CARE, GAPING_NOTE, HIDDEN, PILED_NOTE, mid_span_gap
from polestitch.laying.crossings import crossings
from polestitch.laying.laid import Laid
from polestitch.pipeline import Build
from tests.builds import KIKU
from tests.checks.found import built, of_kind, one_of
from tests.checks.measured import STEP_MM, Dense, nearest

A_MICRORADIAN = 1e-6
TOLD_MM = 0.06  # a tenth of a millimetre is told, and half of one is rounded away
TRIANGLE = {"technique": "polygon", "where": "N", "rows": "4 navy", "params": {"corners": 3, "at": "50 mm"}}
SPINDLE = {"technique": "spindle", "where": "odd lines", "rows": "4 navy", "params": {"at": "1/2 from edge"}}
STAR = {"technique": "star", "where": "all centres", "rows": "6 navy", "params": {"points": 5, "at": "1 mm from edge"}}
WIDE = {"technique": "star", "where": "N", "rows": "9 navy", "params": {"points": 5, "step": 2, "at": "58 mm"}}
GAPING = [(TRIANGLE, "S6"), (SPINDLE, "S8+obi"), ({**STAR, "combine": "layered"}, "C10"), (WIDE, "S10")]


@given(span=st.floats(5, 150), width=st.floats(0.2, 3))
def test_the_gap_in_mid_span_is_that_of_two_geodesics(span: float, width: float) -> None:
    # GeographicLib on a unit sphere: two geodesics over `span` degrees whose ends lie `width` degrees apart;
    # the lower one runs on the equator, so the gap is the other's latitude half way.
    sphere = Geodesic(1, 0)
    line = sphere.InverseLine(width, -span / 2, width, span / 2)
    middle = line.Position(line.s13 / 2)["lat2"]
    gap = float(mid_span_gap(np.asarray(radians(width)), np.asarray(radians(span))))
    assert gap == pytest.approx(radians(middle), abs=A_MICRORADIAN)


@pytest.mark.parametrize(("span", "wider"), [(36, 0.05), (49, 0.10), (90, 0.41), (120, 1.00)])
def test_the_known_figures_of_the_drift(span: float, wider: float) -> None:
    # Worked out by hand from tan g = tan w / cos(L / 2) for narrow rows: 1 / cos(L / 2) - 1.
    gap = float(mid_span_gap(np.asarray(0.01), np.asarray(radians(span))))
    assert gap / 0.01 - 1 == pytest.approx(wider, abs=0.006)


def told_mm(finding: Finding) -> float:
    """The first length in millimetres of the sentence."""
    found = re.search(r"([\d.]+) mm", finding.sentence)
    assert found
    return float(found[1])


def gap_at(made: Build, finding: Finding) -> float:
    """Millimetres from middle to middle of the finding's row and the one before it, across the finding's spot."""
    assert finding.at is not None
    assert finding.row is not None
    assert finding.layer is not None
    dense, at = Dense(made), np.asarray(finding.at)[None]
    later, before = (dense.row_of(finding.layer, str(finding.address), finding.row - k) for k in (0, 1))
    legs = range(int((made.laid.span_row == later).sum()))
    away = [[float(dense.mm(nearest(at, dense.of_leg(row, leg))[0])[0]) for row in (later, before)] for leg in legs]
    return min(sum(pair) for pair in away if abs(pair[0] - pair[1]) < STEP_MM)  # the spot lies half way


@pytest.mark.parametrize(("layer", "division"), GAPING, ids=["triangle", "spindle", "stars", "wide star"])
def test_a_gap_is_as_wide_as_it_lies_and_bare_where_it_is_told(layer: dict[str, Any], division: str) -> None:
    made = built(layer, division=division)
    finding = one_of(made, "mid-span gap")
    pitch = made.ball.mm(made.motifs[0].rows[0].pitch)
    wide = gap_at(made, finding)
    assert told_mm(finding) == pytest.approx(wide - pitch, abs=TOLD_MM)
    assert Dense(made).covered_by(np.asarray(finding.at)) == set()
    assert finding.severity == ("care" if wide > GAPING_CARE * pitch else "note")
    assert wide > GAPING_NOTE * pitch


@pytest.mark.parametrize(("layer", "division"), GAPING[:2], ids=["triangle", "spindle"])
def test_no_gap_is_wider_than_the_one_that_is_told(layer: dict[str, Any], division: str) -> None:
    made = built(layer, division=division)
    dense, finding, motif = Dense(made), one_of(made, "mid-span gap"), made.motifs[0]
    widest = 0.0
    for number in range(2, len(motif.rows) + 1):
        rows = [dense.row_of(0, motif.place, number - k) for k in (0, 1)]
        for leg in range(len(motif.rows[0].half)):
            later, like = (dense.of_leg(row, leg) for row in rows)
            middle = slice(len(later) // 4, -len(later) // 4)  # far from all bites
            widest = max(widest, float(dense.mm(nearest(later[middle], like)[0]).max()))
    assert gap_at(made, finding) == pytest.approx(widest, rel=0.01)


def test_ground_under_a_later_layer_is_not_told() -> None:
    band = {"technique": "band", "where": "obi", "rows": "20 white", "params": {}}
    bare, covered = (one_of(built(*layers), "mid-span gap") for layers in ([SPINDLE], [SPINDLE, band]))
    assert bare.at is not None
    assert covered.at is not None
    assert abs(bare.at[2]) < 0.1  # the widest gap of a spindle is at the obi
    # Ten turns each side of the obi, 14 to the centimetre, on a ball of 250 mm.
    assert abs(covered.at[2]) > np.sin(10 * 10 / 14 / 250 * 2 * np.pi)


def test_the_old_formula_told_ground_of_one_stroke_flowers_where_none_lies() -> None:
    flowers = {"technique": "one_stroke", "where": "ball", "rows": "3 navy, 3 white", "params": {}}
    assert not of_kind(built(flowers, division="C8", ball={"around": "240 mm"}), "mid-span gap")


def test_short_spans_and_leaning_tips_do_not_gape() -> None:
    square = {"technique": "polygon", "where": "N", "rows": "4 navy", "params": {"corners": 4, "at": "15 mm"}}
    assert not of_kind(built(square), "mid-span gap")
    assert not of_kind(built(KIKU), "mid-span gap")


def with_last_row_on(made: Build, share: float) -> Build:
    """The same square, its last row moved over the row before it until ``share`` of a thread lies between them."""
    laid = made.laid
    last, before = (np.flatnonzero(laid.arc_row == row) for row in (laid.arc_row[-1], laid.arc_row[-1] - 1))
    assert len(last) == len(before)
    moved = {name: np.array(getattr(laid, name)) for name in ("normal", "start", "sweep")}
    tilt = share * laid.row_pitch[-1]
    for one, under in zip(last, before):
        normal, start, sweep = laid.normal[under], laid.start[under], laid.sweep[under]
        middle = np.cos(sweep / 2) * start + np.sin(sweep / 2) * np.cross(normal, start)
        # A square's legs run to the right round its middle, so the way out is to the left of them.
        out = -np.sign(normal[2]) * normal
        turned = np.cos(tilt) * out - np.sin(tilt) * middle
        moved["normal"][one] = -np.sign(normal[2]) * turned
        first = start - (start @ turned) * turned
        moved["start"][one], moved["sweep"][one] = first / np.linalg.norm(first), sweep
    changed: Laid = replace(laid, **moved)
    met = crossings(changed)
    return replace(made, laid=changed, crossings=met, over=np.ones(len(met.first), dtype=bool))


@pytest.mark.parametrize(("share", "severity"), [(0.5, "care"), (0.6, "care"), (0.75, "note"), (0.95, None)])
def test_a_row_that_the_next_lies_on_is_hidden(share: float, severity: str | None) -> None:
    square = {"technique": "polygon", "where": "N", "rows": "4 navy", "params": {"corners": 4, "at": "15 mm"}}
    made = with_last_row_on(built(square), share)
    found = of_kind(made, "hidden row")
    assert [finding.severity for finding in found] == ([severity] if severity else [])
    for finding in found:
        assert finding.row == 4
        assert finding.layer == 0
        assert finding.address == "N"
        dense = Dense(made)
        apart = dense.mm(nearest(np.asarray(finding.at)[None], dense.of_row(dense.row_of(0, "N", 3)))[0])[0]
        assert told_mm(finding) == pytest.approx(apart, abs=TOLD_MM)
        assert apart / made.ball.mm(made.motifs[0].rows[0].pitch) == pytest.approx(share, abs=0.02)
        assert (finding.severity == "care") == (share < HIDDEN)


def test_no_row_of_a_square_hides_another() -> None:
    square = {"technique": "polygon", "where": "N", "rows": "4 navy", "params": {"corners": 4, "at": "15 mm"}}
    assert not of_kind(built(square), "hidden row")
    assert not of_kind(built(KIKU), "hidden row")


def test_many_threads_on_one_spot_are_a_build_up_counted_there() -> None:
    heap = [{"technique": "star", "where": "N", "rows": "3 navy", "params": {"points": 16, "step": 7, "at": "30 mm"}}]
    made = built(*(heap * 4), division="S16")
    finding = one_of(made, "build-up")
    assert made.cover.buildup_max > PILED_NOTE
    assert len(Dense(made).covered_by(np.asarray(finding.at))) == made.cover.buildup_max
    assert str(made.cover.buildup_max) in finding.sentence
    assert finding.address == "N"


def test_a_build_up_is_of_the_layer_with_most_threads_there() -> None:
    heap = {"technique": "star", "where": "N", "rows": "3 navy", "params": {"points": 16, "step": 7, "at": "30 mm"}}
    made = built(
        {**heap, "rows": "1 white"}, *([{**heap, "rows": "1 navy"}] * 3), {**heap, "rows": "8 navy"}, division="S16"
    )
    finding = one_of(made, "build-up")
    layers = made.laid.row_layer[sorted(Dense(made).covered_by(np.asarray(finding.at)))]
    assert finding.layer == np.bincount(layers).argmax()
    assert finding.layer == 4


def test_a_plain_kiku_does_not_pile_up() -> None:
    assert not of_kind(built(KIKU), "build-up")
