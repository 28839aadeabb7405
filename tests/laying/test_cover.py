"""Cover and build-up against closed forms, points scattered at random, and turned balls."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.spatial.transform import Rotation

from benchmarks.heavy_balls import MM, ball_a, ball_b, band, bitten, laid_of, round_centre, turned, turns
from polestitch.laying.buildup import pile, rows_over
from polestitch.laying.cover import cover, rings_for
from polestitch.laying.laid import Laid
from polestitch.laying.rings import ODD, intervals
from polestitch.sphere.arcs import unit
from tests.laying.hand_laid import Hand, scattered, tangle

PITCH = 0.6 * MM
A_HUNDREDTH_OF_A_POINT = 1e-4
X, Y, Z = np.eye(3)


def one_turn(normal: np.ndarray, offset: float, pitch: float) -> Laid:
    return laid_of([turns(unit(normal), offset, 0, 0, 1)], pitch)


@pytest.mark.parametrize("half", [0.0079, 0.05, 0.4])
@pytest.mark.parametrize("normal", [X, Y, Z, unit(np.array([0.3, -0.5, 0.8])), unit(np.array([1e-4, 2e-4, 1]))])
def test_a_band_on_a_great_circle_covers_the_sine_of_its_half_width(half: float, normal: np.ndarray) -> None:
    # Archimedes: the zone between latitudes -h and h is sin h of the sphere.
    found = cover(one_turn(normal, 0.0, 2 * half))
    assert found.share == pytest.approx(np.sin(half), abs=A_HUNDREDTH_OF_A_POINT)
    assert abs(found.share - np.sin(half)) <= found.error + 1e-6
    assert found.buildup_max == 1


@pytest.mark.parametrize("normal", [ODD[2], -ODD[2], unit(ODD[2] + 1e-9), unit(ODD[0] + 0.004 * ODD[2])])
def test_a_band_along_or_across_the_rings_is_measured_too(normal: np.ndarray) -> None:
    # The worst case: the thread runs along the rings themselves, or nearly through their poles.
    found = cover(one_turn(normal, 0.0, PITCH))
    assert found.share == pytest.approx(np.sin(PITCH / 2), abs=5 * A_HUNDREDTH_OF_A_POINT)


@pytest.mark.parametrize("offset", [0.3, -0.7, 0.97])
def test_a_turn_off_the_middle_covers_its_zone(offset: float) -> None:
    middle, half = np.arcsin(offset), 0.02
    zone = (np.sin(middle + half) - np.sin(middle - half)) / 2
    found = cover(one_turn(np.array([0.3, -0.5, 0.8]), offset, 2 * half))
    assert found.share == pytest.approx(zone, abs=A_HUNDREDTH_OF_A_POINT)


@given(st.integers(0, 2**32 - 1), st.floats(0.05, 2.5), st.floats(0.01, 0.2))
def test_a_leg_covers_its_length_of_the_band(seed: int, length: float, pitch: float) -> None:
    a, b = scattered(2, seed)
    b = unit(b - (a @ b) * a)
    laid = Hand(pitch).row(np.stack([a, np.cos(length) * a + np.sin(length) * b])).laid()
    found = cover(laid, 400)
    assert found.share == pytest.approx(length / (2 * np.pi) * np.sin(pitch / 2), abs=3 * A_HUNDREDTH_OF_A_POINT)


def test_turns_side_by_side_cover_the_ball_in_one_layer_with_its_area_in_thread() -> None:
    # Single-layer cover: length C^2 / (pi p), that is the sphere's area over the pitch.
    turned_once = list(band(unit(np.array([0.3, -0.5, 0.8])), 200, np.pi / 200, 0, 0))
    laid = laid_of(turned_once, np.pi / 200)
    found = cover(laid)
    around, pitch_mm = 240.0, 240 / 400
    assert laid.length.sum() * around / (2 * np.pi) == pytest.approx(around**2 / (np.pi * pitch_mm), rel=1e-3)
    assert found.share == pytest.approx(1, abs=A_HUNDREDTH_OF_A_POINT)
    assert found.depth_share[1] == pytest.approx(1, abs=A_HUNDREDTH_OF_A_POINT)
    assert found.buildup_max == 1  # neighbours that meet edge to edge are no build-up


def test_threads_that_cross_share_their_diamond() -> None:
    # Two crossing great bands overlap in two diamonds, of (2h)^2 each when narrow.
    half = 0.05
    found = cover(laid_of([turns(X, 0.0, 0, 0, 1), turns(Y, 0.0, 0, 1, 1)], 2 * half), 800)
    assert found.depth_share[2] == pytest.approx(2 * (2 * half) ** 2 / (4 * np.pi), rel=0.01)
    assert found.share == pytest.approx(2 * np.sin(half) - found.depth_share[2], abs=A_HUNDREDTH_OF_A_POINT)
    assert abs(found.buildup_at @ Z) == pytest.approx(1, abs=half**2)
    assert found.buildup_max == 2


@pytest.mark.parametrize("laid", [tangle(60), ball_a(rows=4, passes=4)])
def test_cover_and_depth_agree_with_points_scattered_at_random(laid: Laid) -> None:
    count = 3000
    over = rows_over(laid, scattered(count, 7))
    found = cover(laid)
    assert found.depth_share.sum() == pytest.approx(1, abs=1e-12)
    assert found.share == pytest.approx(1 - found.depth_share[0], abs=1e-12)
    for depth, share in enumerate(found.depth_share):
        four_sigma = 4 * np.sqrt(max(share, 1 / count) / count)
        assert np.mean(over == depth) == pytest.approx(share, abs=four_sigma)
    assert over.max() <= found.buildup_max


@pytest.mark.parametrize("laid", [ball_b(), ball_a(rows=4, passes=4)])
def test_turning_the_ball_changes_the_cover_by_no_more_than_it_states(laid: Laid) -> None:
    truth = cover(laid, 1600).share
    found = [cover(turned(laid, Rotation.random(random_state=seed).as_matrix())) for seed in range(8)]
    assert all(abs(c.share - truth) <= 1.5 * c.error for c in found)
    assert max(abs(c.share - truth) for c in found) < 5 * A_HUNDREDTH_OF_A_POINT
    assert len({c.buildup_max for c in found}) == 1


@pytest.mark.slow
def test_a_fine_cover_of_a_heavy_ball_is_good_to_a_hundredth_of_a_point() -> None:
    laid = ball_a()
    truth = cover(laid, 2400).share
    assert cover(laid, 800).share == pytest.approx(truth, abs=A_HUNDREDTH_OF_A_POINT)


def test_a_thread_at_both_sides_of_its_bite_counts_once() -> None:
    row = bitten(round_centre(Z, X, np.full(4, 0.3)), 0.02, 0, 0, 1)
    laid = laid_of([row], PITCH)
    found = cover(laid)
    assert found.buildup_max == 1
    assert len(found.depth_share) == 2
    twice = laid_of([row, bitten(round_centre(Z, X, np.full(4, 0.3)), 0.02, 0, 0, 2)], PITCH)
    assert cover(twice).buildup_max == 2
    assert cover(twice).share == pytest.approx(found.share, abs=1e-12)


def test_a_pile_of_bands_at_the_pole_is_found_where_it_lies() -> None:
    around = [np.array([np.cos(u), np.sin(u), 0.0]) for u in np.linspace(0, np.pi, 7, endpoint=False)]
    laid = laid_of([turns(n, 0.0, 0, motif, 1) for motif, n in enumerate(around)], 0.05)
    found = cover(laid)
    assert found.buildup_max == 7
    assert np.arccos(abs(found.buildup_at @ Z)) < 0.05
    assert pile(laid, found.buildup_at).tolist() == list(range(7))
    assert rows_over(laid, np.stack([Z, -Z, X])).tolist() == [
        7,
        7,
        int(np.sum(np.abs([n @ X for n in around]) < 0.025)),
    ]


def test_no_thread_covers_nothing() -> None:
    bare = Hand().row(np.stack([X, Y])).laid()
    none = Laid(**{name: getattr(bare, name)[:0] for name in Laid.__dataclass_fields__})
    found = cover(none)
    assert (found.share, found.buildup_max, found.depth_share.tolist()) == (0.0, 0, [1.0])
    assert rows_over(none, np.stack([X])).tolist() == [0]


def test_rings_come_a_whole_number_to_a_pitch() -> None:
    assert rings_for(ball_b()) == 200  # 0.6 mm on 240 mm: one ring a pitch
    assert rings_for(one_turn(X, 0.0, 0.05)) == round(3 * np.pi / 0.05)
    assert rings_for(one_turn(X, 0.0, 1e-4)) == 400  # as many as it gets


def test_intervals_lie_within_one_round() -> None:
    found = intervals(tangle(40), 150)
    assert np.all((found.begin >= 0) & (found.end <= 2 * np.pi) & (found.begin <= found.end))
