"""What a family's own words promise to the eye, measured on the laid thread.

The words are each family's ``look`` and ``sentence``; the pages behind them stand in its file as ``sources``.
"""

import json
from itertools import pairwise

import numpy as np
import pytest
from numpy.typing import NDArray

from polestitch.document.codec import read
from polestitch.families.family import starter
from polestitch.laying.cover import cover
from polestitch.laying.settle import settled
from polestitch.laying.top import top
from polestitch.pipeline import Build, build
from polestitch.sphere.arcs import Points, arc_angle, cross, move, unit

SIZES = [180.0, 273.0, 400.0]
every_size = pytest.mark.parametrize("around", SIZES)


def made(name: str, around: float) -> Build:
    return build(read(json.dumps(starter(name, around))))


@every_size
def test_leaves_of_bamboo_are_pointed(around: float) -> None:
    # Flanks meet in less than 45 degrees (before: 56).  No page gives a figure; tips of leaves in general: 30 to 40.
    ball = made("bamboo", around)
    leaves = [motif for motif in ball.motifs if ball.design.layers[motif.layer].technique == "spindle"]
    assert len(leaves) == 16
    for motif in leaves:
        there, back = settled(motif.rows)[-1].chains
        assert _between(there[-2] - there[-1], back[1] - back[0]) < 45.0


def _between(one: Points, two: Points) -> float:
    return float(np.degrees(np.arccos(one @ two / np.linalg.norm(one) / np.linalg.norm(two))))


def _everywhere(count: int = 20_000) -> Points:
    """Evenly spread points (a spiral of equal areas)."""
    k = np.arange(count) + 0.5
    z, turn = 1 - 2 * k / count, np.pi * (1 + 5**0.5) * k
    return np.stack([np.sqrt(1 - z**2) * np.cos(turn), np.sqrt(1 - z**2) * np.sin(turn), z], axis=1)


def _covered(ball: Build, points: Points) -> NDArray[np.bool_]:
    return np.asarray(top(ball.laid, points).arc >= 0)


@every_size
def test_three_diamonds_are_solid(around: float) -> None:
    ball, points = made("three-diamonds", around), _everywhere()
    middles = np.array([point.at for point in ball.marking.points if point.name.startswith("diamond ")])
    nearest = np.sort(points @ middles.T, axis=1)
    # Neighbouring middles stand 60 degrees apart, so this is the sine of how far a point lies from its edge.
    inside = points[nearest[:, -1] - nearest[:, -2] > np.sin(1.0 / ball.ball.radius_mm)]
    assert _covered(ball, inside).mean() > 0.9
    assert not _windows(ball, inside).any()


def _windows(ball: Build, points: Points) -> NDArray[np.bool_]:
    """Which of ``points`` are bare with all that lies half a thread round them.

    Sides are great circles that drift apart in mid-span (decision 0010), and a sharp corner takes more than the free
    step (decision 0174): both leave hairlines between rows, up to a quarter of a thread, but no window.
    """
    bare = points[~_covered(ball, points)]
    radius = float(ball.laid.row_pitch.min()) / 2
    ways = unit(cross(bare, np.array([0.6, 0.64, 0.48])))
    turns = np.arange(8) * np.pi / 4
    round_ = [move(bare, np.cos(turn) * ways + np.sin(turn) * cross(bare, ways), radius) for turn in turns]
    return np.asarray(~np.any([_covered(ball, spots) for spots in round_], axis=0))


@every_size
def test_the_pinwheel_covers_the_ball(around: float) -> None:
    # "until the ball is covered" (temarikai 99PG01).
    ball = made("pinwheel", around)
    assert cover(ball.laid).share > 0.9
    assert not _windows(ball, _everywhere()).any()


@every_size
def test_the_twisted_plum_has_five_solid_petals_that_hold_each_other(around: float) -> None:
    # C10 in nejiri, "twisted three-diamond plum" (temari-thukuri 2016-03-05; charisma.media 50225).
    ball, points = made("twisted-plum", around), _everywhere()
    centres = np.array([p.at for p in ball.marking.points if p.name in ("N", "S") or p.name.startswith("centre ")])
    petals = [motif for motif in ball.motifs if motif.layer == 0]
    middles = np.array([motif.middle for motif in petals])
    assert (np.sum(middles @ centres.T > np.cos(0.6), axis=0) == 5).all()  # 31.7 degrees to a petal, the next 58
    heart = np.max(points @ middles.T, axis=1) > np.cos(0.11)
    assert np.mean(_covered(ball, points[heart])) > 0.93  # but for a hole where the first row begins
    over = _over(ball, layer=0)
    assert over
    assert all((below, above) in over for above, below in over)  # each over the other somewhere: linked


def _over(ball: Build, layer: int) -> set[tuple[int, int]]:
    """Which motif of a layer lies over which other one at any crossing."""
    met = ball.crossings
    rows = [ball.laid.arc_row[arc] for arc in (met.second, met.first)]
    later, earlier = (ball.laid.row_motif[row] for row in rows)
    own = (ball.laid.row_layer[rows[0]] == layer) & (ball.laid.row_layer[rows[1]] == layer) & (later != earlier)
    above, below = np.where(ball.over, later, earlier)[own], np.where(ball.over, earlier, later)[own]
    return set(zip(above.tolist(), below.tolist()))


@every_size
@pytest.mark.parametrize(("name", "widest"), [("great-star", 1.2), ("five-point-star", 1.45)])
def test_rows_of_a_star_close_up(name: str, widest: float, around: float) -> None:
    # Free great circles of these lengths part by 1 / cos(L / 2), 1.14 and 1.36 (decision 0010); before: 2.3 and 1.9.
    rows = made(name, around).motifs[0].rows
    chains = [_dense(row.chains[0]) for row in settled(rows)]
    gaps = [
        float(arc_angle(two[len(two) // 2], one).min()) / row.pitch for one, two, row in zip(chains, chains[1:], rows)
    ]
    assert min(gaps) > 0.97
    assert max(gaps) < widest


def _dense(chain: Points) -> Points:
    """Points along a chain of arcs, a quarter of a thread apart or closer."""
    share = np.linspace(0, 1, 400)[:, None]
    return np.concatenate([unit((1 - share) * a + share * b) for a, b in pairwise(chain)])


@every_size
def test_a_cube_weave_leaves_no_corner_bare_on_any_ball(around: float) -> None:
    # 8 bands of 8 threads are published for a ball of 3 in (24 cm round; temarikai 99TB02).
    assert cover(made("cube-weave", around).laid).share > 0.98
