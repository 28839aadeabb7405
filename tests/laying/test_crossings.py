"""Crossings against published values, a second method that shares no code, and chance."""

from collections.abc import Callable
from typing import Any

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from numpy.typing import NDArray
from scipy.spatial.transform import Rotation

from benchmarks.crossings_all_pairs import all_pairs
from benchmarks.heavy_balls import Trip, ball_a, ball_b, bands, icosahedron, laid_of, turned
from polestitch.laying import bundles
from polestitch.laying.crossings import crossings, crossings_among
from polestitch.laying.laid import Laid
from polestitch.sphere.arcs import Points, dot, move, toward, unit
from tests.laying.exact_meetings import exact_meetings
from tests.laying.hand_laid import Hand, scattered, tangle

PITCH = 0.0157
N = np.array([0.0, 0.0, 1.0])


def at(latitude: float, longitude: float) -> Points:
    """Unit vector of degrees north and east."""
    north, east = np.radians([latitude, longitude])
    return np.array([np.cos(north) * np.cos(east), np.cos(north) * np.sin(east), np.sin(north)])


def axes(points: Points) -> Points:
    """One of each pair of opposite points."""
    return np.array([p for k, p in enumerate(points) if not np.any(points[:k] @ p < -0.99)])


CUBE = unit(np.array([[1.0, 1, 1], [1, 1, -1], [1, -1, 1], [-1, 1, 1]]))
SIX = axes(icosahedron())


def count(hand: Hand) -> tuple[int, int]:
    """Proper crossings, touches."""
    found = crossings(hand.laid())
    return len(found), len(found.touches)


# Great-circle arrangements: n circles, no three through a point, have n (n - 1) crossings (elementary; the
# icosidodecahedron has 30 vertices and the cuboctahedron 12, encyclopedia abstracts; ten axes through the
# dodecahedron's vertices make 90).
@pytest.mark.parametrize(("normals", "expected"), [(np.eye(3), 6), (CUBE, 12), (SIX, 30), (scattered(7), 42)])
def test_great_circles_cross_twice_a_pair(normals: Points, expected: int) -> None:
    found = crossings(laid_of(bands(normals, 1, PITCH), PITCH))
    assert len(found) == expected
    assert len(found.touches) == 0
    assert np.allclose(np.einsum("ki,ki->k", found.point, found.point), 1, atol=1e-15)


def test_six_circles_cross_at_the_corners_of_the_icosidodecahedron() -> None:
    found = crossings(laid_of(bands(SIX, 1, PITCH), PITCH))
    nearest = np.sort(np.degrees(np.arccos(np.clip(found.point @ found.point.T, -1, 1))), axis=1)[:, 1:5]
    assert nearest == pytest.approx(36.0, abs=1e-5)  # arc length of its edges


def test_six_bands_of_twelve_turns_cross_4320_times() -> None:
    laid = laid_of(bands(SIX, 12, PITCH), PITCH)
    found = crossings(laid)
    assert len(found) == 30 * 144
    motif = laid.row_motif[laid.arc_row]
    assert np.all(motif[found.first] != motif[found.second])  # turns of one band never meet


def test_two_radials_meet_where_the_aviation_formulary_says() -> None:
    # E. Williams, Aviation Formulary, worked example: the 51 degree radial from (42.600 N, 117.866 W) meets
    # the 137 degree radial from (44.840 N, 117.806 W) at (43.572 N, 116.189 W).
    legs = []
    for latitude, longitude, course in ((42.600, -117.866, 51), (44.840, -117.806, 137)):
        here, c = at(latitude, longitude), np.radians(course)
        north = toward(here, N)
        legs.append(np.stack([here, move(here, np.cos(c) * north + np.sin(c) * np.cross(north, here), 0.1)]))
    (point,) = crossings(Hand().row(legs[0]).row(legs[1]).laid()).point
    assert np.degrees(np.arcsin(point[2])) == pytest.approx(43.572, abs=5e-4)
    assert np.degrees(np.arctan2(point[1], point[0])) == pytest.approx(-116.189, abs=5e-4)


Found = tuple[NDArray[np.intp], NDArray[np.intp], Points]


def in_order(one: NDArray[Any], two: NDArray[Any], point: Points) -> Found:
    """By first arc, second arc, and a direction that tells two meetings of one pair apart."""
    order = np.lexsort((point @ np.array([0.63, 0.41, 0.66]), two, one))
    return one[order], two[order], point[order]


def agree(mine: Found, theirs: Found) -> bool:
    """Whether two answers name the same arcs at the same places."""
    return all(len(a) == len(b) and np.allclose(a, b, rtol=0, atol=1e-9) for a, b in zip(mine, theirs))


def found_in(laid: Laid) -> Found:
    found = crossings(laid)
    return in_order(found.first, found.second, found.point)


@pytest.mark.parametrize(
    "laid", [ball_a(rows=2, passes=2), ball_a(2.0, 1, 2, pieces=20), laid_of(bands(SIX, 5, PITCH), PITCH)]
)
def test_a_turned_ball_has_the_same_crossings_by_two_methods(laid: Laid) -> None:
    one, two, _ = found_in(laid)
    for seed in range(8):
        ball = turned(laid, Rotation.random(random_state=seed).as_matrix())
        mine = found_in(ball)
        assert np.array_equal(mine[0], one)
        assert np.array_equal(mine[1], two)
        assert agree(mine, in_order(*all_pairs(ball)))


@pytest.mark.slow
@pytest.mark.parametrize("make", [ball_a, ball_b])
def test_a_heavy_ball_crosses_as_all_pairs_say(make: Callable[[], Laid]) -> None:
    laid = make()
    assert agree(found_in(laid), in_order(*all_pairs(laid)))


@pytest.mark.parametrize("laid", [ball_a(rows=3, passes=3), tangle(150)])
def test_no_pair_is_left_out_of_the_search(laid: Laid) -> None:
    one, two = np.triu_indices(len(laid.offset), 1)
    apart = laid.arc_span[one] != laid.arc_span[two]
    tried = crossings_among(laid, one[apart], two[apart])
    found = crossings(laid)
    assert np.array_equal(tried.first, found.first)
    assert np.array_equal(tried.second, found.second)
    assert np.array_equal(tried.touches, found.touches)


@pytest.mark.parametrize(("bundle", "level"), [(2, 1), (3, 8), (50, 0)])
def test_the_search_finds_the_same_with_bundles_of_any_size(
    monkeypatch: pytest.MonkeyPatch, bundle: int, level: int
) -> None:
    laid = ball_a(rows=2, passes=2)
    before = found_in(laid)
    monkeypatch.setattr(bundles, "BUNDLE", bundle)
    monkeypatch.setattr(bundles, "ALL_PAIRS_LEVEL", level)
    assert agree(found_in(laid), before)


@pytest.mark.parametrize("seed", range(6))
def test_random_circles_and_legs_cross_as_all_pairs_say(seed: int) -> None:
    laid = tangle(120, seed)
    assert agree(found_in(laid), in_order(*all_pairs(laid)))


numbers = st.floats(-1, 1, allow_subnormal=False)
vectors = st.tuples(numbers, numbers, numbers).map(np.array).filter(lambda v: np.linalg.norm(v) > 0.1)
arcs = st.tuples(vectors, vectors, st.sampled_from([0.0, 0.0, 0.02, -0.3, 0.9]), st.floats(0.01, 2 * np.pi))


def arc_laid(drawn: list[tuple[Points, Points, float, float]]) -> Laid:
    """Each drawn arc as a row of its own: an axis, a way to its start, offset and sweep."""
    trips = []
    for motif, (axis, way, offset, sweep) in enumerate(drawn):
        n = unit(axis)
        across = toward(n, unit(way)) if np.linalg.norm(np.cross(n, unit(way))) > 0.05 else toward(n, n[[1, 2, 0]])
        start = offset * n + np.sqrt(1 - offset**2) * across
        trips.append(Trip(n[None], np.array([offset]), start[None], np.array([sweep]), np.zeros(1, int), 0, motif, 1))
    return laid_of(trips, PITCH)


def clear_of_touches(laid: Laid) -> bool:
    """Whether no end lies near another circle and no two circles nearly touch."""
    a, n = laid.sweep * 0, np.arange(len(laid.offset), dtype=np.int32)
    ends = np.concatenate([laid.at(n, a), laid.at(n, laid.sweep)])
    off = np.abs(ends @ laid.normal.T - laid.offset)
    off[n, n] = off[n + len(n), n] = 1
    d = laid.normal @ laid.normal.T
    lowest = np.outer(laid.radius, np.ones(len(n))) * np.sqrt(np.maximum(0, 1 - d**2)) - np.abs(
        laid.offset[:, None] * d - laid.offset
    )
    np.fill_diagonal(lowest, 1)
    return bool(off.min() > 1e-7 and np.abs(lowest).min() > 1e-7)


@pytest.mark.slow
@given(st.lists(arcs, min_size=2, max_size=12))
def test_any_arcs_cross_as_all_pairs_say(drawn: list[tuple[Points, Points, float, float]]) -> None:
    laid = arc_laid(drawn)
    assume(clear_of_touches(laid))
    assert agree(found_in(laid), in_order(*exact_meetings(laid)))


@pytest.mark.parametrize("opposite", [False, True])
@pytest.mark.parametrize("offset", [0.0, 0.02, -0.3, 0.9])
@pytest.mark.parametrize("apart", [1e-2, 1e-3, 1e-4, 1e-5, 1e-6])
def test_circles_that_nearly_agree_cross_where_exact_numbers_say(apart: float, offset: float, opposite: bool) -> None:
    chance, tried = np.random.default_rng(7), 0
    for axis, way, aside in chance.normal(size=(20, 3, 3)):
        other, level = (-(axis + apart * aside), -offset) if opposite else (axis + apart * aside, offset)
        laid = arc_laid([(axis, way, offset, 2 * np.pi), (other, way, level, 2 * np.pi)])
        if clear_of_touches(laid):
            tried += 1
            assert agree(found_in(laid), in_order(*exact_meetings(laid)))
    assert tried >= 5


def test_reversing_the_laying_order_changes_only_who_came_first() -> None:
    laid = tangle(80)
    back = {name: getattr(laid, name)[::-1] for name in ("normal", "offset", "start", "sweep", "row_motif")}
    fields = {name: getattr(laid, name) for name in Laid.__dataclass_fields__} | back
    last = len(laid.offset) - 1
    one, two, point = found_in(laid)
    mine = crossings(Laid(**{name: np.array(array) for name, array in fields.items()}))
    assert agree(in_order(last - mine.second, last - mine.first, mine.point), (one, two, point))


def test_chance_thread_crosses_as_often_as_integral_geometry_says() -> None:
    # Two random arcs of lengths a, b cross with chance a b / (2 pi^2 R^2), so thread of length T in many
    # pieces is expected to cross itself T^2 / (4 pi^2 R^2) times (Santalo's formula on the sphere, from memory).
    chance = np.random.default_rng(11)
    start, way = unit(chance.normal(size=(2, 1500, 3)))
    hand = Hand()
    for a, b in zip(start, move(start, toward(start, way), 0.4)):
        hand.row(np.stack([a, b]))
    laid = hand.laid()
    expected = laid.length.sum() ** 2 / (4 * np.pi**2)
    three_sigma = 3 * np.sqrt(expected)  # counts of nearly independent rare events
    assert len(crossings(laid)) == pytest.approx(expected, abs=three_sigma)


def test_a_crossing_lies_where_both_arcs_say() -> None:
    laid = tangle(100)
    found = crossings(laid)
    for arc, t in ((found.first, found.t_first), (found.second, found.t_second)):
        assert np.abs(laid.at(arc, t) - found.point).max() < 1e-12
        assert np.all((t > 0) & (t < laid.sweep[arc]))
    assert np.all(found.first < found.second)


# -- Touches ----------------------------------------------------------------------------------------------


def east(angle: float, up: float = 0.0) -> Points:
    """A place on the obi, or above it."""
    return np.array([np.cos(up) * np.cos(angle), np.cos(up) * np.sin(angle), np.sin(up)])


OBI = [east(-0.3), east(0.4)]


def test_legs_that_share_a_bite_point_touch() -> None:
    assert count(Hand().row(np.array([east(0), east(0.2, 0.3)])).row(np.array([east(0), east(-0.2, 0.3)]))) == (0, 1)


def test_an_end_on_another_thread_touches_it() -> None:
    assert count(Hand().row(np.array(OBI)).row(np.array([east(0.1), east(0.1, 0.5)]))) == (0, 1)


@pytest.mark.parametrize(("off", "expected"), [(1e-12, (0, 1)), (-1e-12, (0, 1)), (1e-7, (0, 0)), (-1e-7, (1, 0))])
def test_an_end_touches_within_the_stated_tolerance_only(off: float, expected: tuple[int, int]) -> None:
    assert count(Hand().row(np.array(OBI)).row(np.array([east(0.1, off), east(0.1, 0.5)]))) == expected


def test_an_end_near_the_circle_but_off_the_arc_is_nothing() -> None:
    assert count(Hand().row(np.array(OBI)).row(np.array([east(0.9), east(0.9, 0.5)]))) == (0, 0)


def test_threads_along_one_line_touch_and_do_not_cross() -> None:
    assert count(Hand().row(np.array(OBI)).row(np.array([east(0.1), east(0.8)]))) == (0, 1)


def test_legs_of_one_row_cross_beside_their_bite() -> None:
    half = 0.02
    row = [east(-0.3, 0.3), east(half), east(-half), east(0.3, 0.3)]  # enters on the right, leaves on the left
    hand = Hand().row(np.array(row[:2])).row(np.array(row[2:]))
    assert count(hand) == (1, 0)
    assert count(Hand().row(np.array(row))) == (1, 2)  # the bite's own thread, if it lay outside, touches both


@pytest.mark.parametrize("turn", range(4))
def test_a_crossing_at_a_joint_counts_once(turn: int) -> None:
    rotation = Rotation.random(random_state=turn).as_matrix()
    through = np.array([east(0.1, -0.4), east(0.1), east(0.25, 0.4)]) @ rotation.T
    leaning = np.array([east(0.0, 0.4), east(0.1), east(0.25, 0.4)]) @ rotation.T
    line = np.array(OBI) @ rotation.T
    bent = np.array([OBI[0], east(0.1), east(0.4, 0.1)]) @ rotation.T
    assert count(Hand().row(line).row(through, chain=True)) == (1, 0)
    assert count(Hand().row(through, chain=True).row(line)) == (1, 0)
    assert count(Hand().row(line).row(leaning, chain=True)) == (0, 2)
    assert count(Hand().row(bent, chain=True).row(through, chain=True)) == (1, 0)
    assert count(Hand().row(bent, chain=True).row(leaning, chain=True))[0] == 0


def test_the_joint_crossing_lies_at_the_joint() -> None:
    hand = Hand().row(np.array(OBI)).row(np.array([east(0.1, -0.4), east(0.1), east(0.25, 0.4)]), chain=True)
    found = crossings(hand.laid())
    assert (found.first.tolist(), found.second.tolist()) == ([0], [1])
    assert np.allclose(found.point, east(0.1), atol=1e-12)


def test_arcs_of_one_chain_neither_cross_nor_touch() -> None:
    loop = np.array([east(0), east(0.3), east(0.15, 0.2), east(0.15, -0.2)])
    assert count(Hand().row(loop, chain=True)) == (0, 0)


@pytest.mark.parametrize(
    ("gap", "expected"), [(0.0, (0, 1)), (1e-11, (0, 1)), (-1e-11, (0, 1)), (1e-6, (0, 0)), (-1e-6, (2, 0))]
)
def test_circles_that_graze_touch_and_circles_that_overlap_cross_twice(gap: float, expected: tuple[int, int]) -> None:
    one, two = 0.4, 0.3  # angular radii; their centres are apart by the sum, and a gap
    hand = Hand().turn(N, float(np.cos(one))).turn(east(0, np.pi / 2 - one - two - gap), float(np.cos(two)))
    assert count(hand) == expected


def test_near_parallel_great_circles_cross_twice() -> None:
    for tilt in (1e-3, 1e-5, 1e-7):
        found = crossings(Hand().turn(N).turn(east(0.3, np.pi / 2 - tilt)).laid())
        assert len(found) == 2
        assert np.abs(dot(found.point, N)).max() < 1e-12


def test_turns_of_one_band_never_cross_however_fine() -> None:
    for pitch in (1e-2, 1e-4, 1e-6, 1e-8):
        laid = laid_of(bands(unit(np.array([[0.3, 0.5, 0.8]])), 9, pitch), pitch)
        assert len(crossings(laid)) == 0


def test_no_thread_no_crossings() -> None:
    for laid in (Hand().row(np.array(OBI)).laid(), laid_of(bands(np.eye(3)[:1], 1, PITCH), PITCH)):
        assert len(crossings(laid)) == len(crossings(laid).touches) == 0


def test_crossings_cannot_be_changed() -> None:
    found = crossings(tangle(20))
    with pytest.raises(ValueError, match="read-only"):
        found.first[0] = 3
