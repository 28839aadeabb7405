"""How thread lies: taut between bites, beside the same leg of the row before."""

from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise

import numpy as np
import pytest

from polestitch.document.lengths import Length
from polestitch.laying.settle import Settled, settled
from polestitch.sphere.arcs import Points, arc_angle, between, dot
from polestitch.stitching.stitches import Row
from polestitch.stitching.techniques import spindle, star, uwagake
from tests.stitching.sites import site

PITCH_MM = 0.71
TWO_DEGREES = np.radians(2)


def dense(chain: Points, count: int = 60) -> Points:
    """Points along a chain, ``count`` on each arc."""
    shares = np.linspace(0, 1, count)[:, None, None]
    steps = [between(chain[:-1], chain[1:], float(share)) for share in shares.ravel()]
    return np.swapaxes(np.stack(steps), 0, 1).reshape(-1, 3)


def kiku(rows: int) -> tuple[Sequence[Row], tuple[Settled, ...], float]:
    """A sixteen-line kiku on a 20 cm ball."""
    seat = site("centre", 200.0, 16)
    pitch = seat.ball.angle(PITCH_MM)
    stitched = list(uwagake.stitch(seat, uwagake.Params(), [pitch] * rows))
    return stitched, settled(stitched), pitch


def test_a_tip_grows_as_a_wedge_whose_half_angle_has_sine_pitch_over_stretch() -> None:
    # Published stars step about 2 mm a row in size 5 at about 19 degrees (published tutorial on
    # stretching points); geometry: legs one pitch apart whose ends lie one stretch apart.
    rows, threads, _ = kiku(9)
    last = rows[-1]
    flank = dense(threads[-1].chains[0])
    along = np.arctan2(dot(flank, -last.outward[0]), dot(flank, last.places[0]))
    aside = np.arcsin(dot(flank, last.travel[0]))
    step = last.step[0]
    wedge = (along > 1.5 * step) & (along < 7.5 * step)
    slope = np.polyfit(along[wedge], aside[wedge], 1)[0]
    assert np.arctan(slope) == pytest.approx(np.arcsin(PITCH_MM / 2.0), abs=TWO_DEGREES)


def test_rows_of_a_kiku_never_come_nearer_than_a_pitch_outside_the_bites() -> None:
    _, threads, pitch = kiku(10)
    for former, later in pairwise(threads):
        for k in (0, 1):
            old, new = dense(former.chains[k]), dense(later.chains[k])
            gaps = arc_angle(new[:, None], old[None]).min(axis=1)
            near_ends = np.minimum(arc_angle(new, new[0]), arc_angle(new, new[-1])) < 4 * pitch
            assert gaps[~near_ends].min() > 0.99 * pitch


def test_rows_of_a_kiku_lie_no_wider_apart_than_the_drift_of_two_geodesics_allows() -> None:
    # tan(g) = tan(w) / cos(L / 2): two great circles w apart at both ends of a span L.
    _, threads, pitch = kiku(10)
    for former, later in pairwise(threads[2:]):
        old, new = dense(former.chains[0]), dense(later.chains[0])
        length = arc_angle(later.chains[0][:-1], later.chains[0][1:]).sum()
        widest = np.arctan(np.tan(pitch) / np.cos(length / 2))
        from_ends = np.minimum(arc_angle(new, new[0]), arc_angle(new, new[-1]))
        # In the last two steps of a tip the former leg is still crossing to its own side.
        middle = new[from_ends > 7 * pitch]
        assert arc_angle(middle[:, None], old[None]).min(axis=1).max() < 1.02 * widest


def test_a_spindle_of_eleven_rounds_almost_reaches_the_midline_as_published() -> None:
    # Published pattern (temarikai.com, simple spindles): ten lines on 22 to 23 cm, start halfway
    # between pole and obi, 11 rounds "almost" reach the midline, C/20 = 11.5 mm away.
    seat = site("arc", 230.0, 2)
    pitch = seat.ball.angle(PITCH_MM)
    rows = list(spindle.stitch(seat, spindle.Params(at=Length("1/2 from centre")), [pitch] * 11))
    flank = dense(settled(rows)[-1].chains[0])
    edge_mm = seat.ball.mm(float(np.arcsin(np.abs(flank[:, 1]).max()) + pitch / 2))
    assert 10.2 < edge_mm < 11.5


def test_without_the_rows_before_a_spindle_would_lie_on_its_own_line() -> None:
    seat = site("arc", 230.0, 2)
    rows = list(spindle.stitch(seat, spindle.Params(), [seat.ball.angle(PITCH_MM)] * 6))
    chain = settled(rows)[-1].chains[0]
    free = dense(np.stack([chain[0], chain[-1]]))
    assert np.abs(free[:, 1]).max() < np.abs(dense(chain)[:, 1]).max() / 4


def test_both_legs_of_a_tip_lean_to_their_own_sides() -> None:
    seat = site("centre", 270.0, 10)
    rows = list(star.stitch(seat, star.Params(), [seat.ball.angle(PITCH_MM)] * 6))
    last = settled(rows)[-1]
    leaving, arriving = last.chains[0][1], last.chains[-1][-2]
    assert leaving @ rows[-1].travel[0] > 0 > arriving @ rows[-1].travel[0]


def test_a_first_row_touches_nothing() -> None:
    _, threads, _ = kiku(1)
    assert all(len(chain) == 2 for chain in threads[0].chains)


def test_the_two_legs_of_a_spindles_first_row_touch_along_their_line() -> None:
    seat = site("arc", 230.0, 2)
    pitch = seat.ball.angle(PITCH_MM)
    (row,) = spindle.stitch(seat, spindle.Params(), [pitch])
    down, up = settled([row])[0].chains
    middle = [dense(leg)[len(dense(leg)) // 2] for leg in (down, up)]
    # Half a thread off the line at their tips; the drift of a quarter's span widens that in the middle.
    off = [float(np.arcsin(point[1])) for point in middle]
    assert off[0] == pytest.approx(-off[1], rel=1e-6)
    assert pitch / 2 < abs(off[0]) < 1.42 * pitch / 2


def test_a_leg_leans_on_the_last_row_on_the_same_lines_and_strand() -> None:
    seat = site("centre", 250.0, 8)
    rows = list(star.stitch(seat, star.Params(points=8, step=3), [seat.ball.angle(PITCH_MM)] * 3))
    other = [replace(row, strand=1) for row in rows]
    mixed = settled([rows[0], other[0], rows[1], other[1], rows[2]])
    for one, two in zip(settled(rows), mixed[::2]):
        assert all(np.array_equal(a, b) for a, b in zip(one.chains, two.chains))


@pytest.mark.parametrize("shape", ["kiku", "tight star", "spindle"])
def test_a_leg_that_leans_lies_one_thread_off_where_it_leans(shape: str) -> None:
    # Dense sampling of the former leg: never nearer than 0.97 threads, and never farther than 1.03 where it leans,
    # that is wherever the string turns.
    if shape == "kiku":
        _, threads, pitch = kiku(8)
    else:
        seat = site("centre", 270.0, 10, settings=(0.9, 1.0)) if shape == "tight star" else site("arc", 230.0, 2)
        pitch = seat.ball.angle(PITCH_MM)
        craft = star.stitch(seat, star.Params(), [pitch] * 8) if shape == "tight star" else None
        threads = settled(list(craft or spindle.stitch(seat, spindle.Params(), [pitch] * 8)))
    turns = 0
    for former, later in pairwise(threads):
        for old, new in zip(former.chains[:2], later.chains[:2]):
            gaps = arc_angle(new[1:-1, None], dense(old, 300)[None]).min(axis=1)
            turns += len(gaps)
            assert np.all((gaps > 0.97 * pitch) & (gaps < 1.03 * pitch))
    assert turns > 10
