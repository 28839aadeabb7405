"""Slip against curvatures by finite differences, the published criterion, and locks placed by hand."""

import numpy as np
import pytest

from benchmarks.heavy_balls import MM, Trip, band, laid_of, legs, turns
from polestitch.laying.crossings import crossings
from polestitch.laying.laid import Laid
from polestitch.laying.slip import Sliding, holding_turns, slides, slip_tendency, slipping
from polestitch.laying.weave import UnderRule, over
from polestitch.sphere.arcs import Points, unit

X, Y, Z = np.eye(3)
PITCH = 0.6 * MM
REACH = 25 * MM  # a keeper pin every 2 to 3 cm


def curvatures(line: Points) -> tuple[float, float]:
    """Geodesic and normal curvature at the middle of three points of a line on a sphere, any radius."""
    a, b, c = line
    step = (np.linalg.norm(b - a) + np.linalg.norm(c - b)) / 2
    bend, way = (a - 2 * b + c) / step**2, unit(c - a)
    out = unit(b)
    return abs(float(bend @ np.cross(out, way))), abs(float(bend @ out))


@pytest.mark.parametrize("radius_mm", [40.0, 60.0])
@pytest.mark.parametrize("degrees", [5, 10, 20, 45])
def test_a_parallel_slips_by_the_tangent_of_its_offset(degrees: float, radius_mm: float) -> None:
    offset = np.sin(np.radians(degrees))
    laid = laid_of([turns(Z, offset, 0, 0, 1)], PITCH)
    line = radius_mm * laid.at(np.zeros(3, dtype=np.int32), np.array([0.999, 1.0, 1.001]))
    geodesic, normal = curvatures(line)
    (tendency,) = slip_tendency(laid.offset)
    assert tendency == pytest.approx(geodesic / normal, rel=1e-6)
    assert tendency == pytest.approx(np.tan(np.radians(degrees)), rel=1e-12)


def test_great_circles_never_slip() -> None:
    laid = laid_of([turns(X, 0.0, 0, 0, 1), legs(X[None], Y[None], 0, 1, 1)], PITCH)
    assert slip_tendency(laid.offset).tolist() == [0.0, 0.0]
    assert len(slipping(laid, 1e-9)) == 0


# Slippage criterion tan d <= mu: largest offset in degrees and as a share of the circumference, recomputed
# from the formula (abstract in Acta Materiae Compositae Sinica, fhclxb.buaa.edu.cn/article/id/11717).
@pytest.mark.parametrize(
    ("friction", "degrees", "share"),
    [
        (0.10, 5.7106, 0.01586),
        (0.15, 8.5308, 0.02370),
        (0.20, 11.3099, 0.03142),
        (0.30, 16.6992, 0.04639),
        (0.5, 26.5651, 0.07379),
    ],
)
def test_a_band_holds_as_far_out_as_the_criterion_allows(friction: float, degrees: float, share: float) -> None:
    assert holding_turns(np.radians(degrees) / 1000.5, friction) == 1000
    assert holding_turns(2 * np.pi * share / 100.5, friction) == 100
    around = 240.0
    laid = laid_of(list(band(Z, 91, PITCH, 0, 0)), PITCH)
    held = 91 - len(slipping(laid, friction))
    assert held == min(91, 1 + 2 * holding_turns(PITCH, friction))
    assert holding_turns(PITCH, friction) == int(share * around / 0.6)


def sliding(laid: Laid, *rules: UnderRule, reach: float = REACH) -> tuple[Sliding, ...]:
    found = crossings(laid)
    return slides(laid, found, over(laid, found, rules), friction=0.3, reach=reach)


def meridians(count: int, layer: int = 1) -> list[Trip]:
    """Great circles over the poles, evenly round; each crosses a parallel twice."""
    normals = [np.array([np.cos(u), np.sin(u), 0.0]) for u in np.linspace(0, np.pi, count, endpoint=False)]
    return [turns(n, 0.0, layer, motif, 1) for motif, n in enumerate(normals)]


LOOSE = turns(Z, np.sin(np.radians(30)), 0, 0, 1)


def test_a_turn_nothing_lies_over_stays_loose() -> None:
    (turn,) = sliding(laid_of([LOOSE], PITCH))
    assert turn.tendency == pytest.approx(np.tan(np.radians(30)))
    assert (turn.locked_by, len(turn.locks)) == (None, 0)
    round_it = 240 * np.cos(np.radians(30))  # mm
    assert turn.largest_gap == pytest.approx(round_it * MM)
    assert turn.keeper_pins == int(np.ceil(round_it / 25))


def test_a_turn_is_locked_by_the_first_row_that_closes_the_gaps() -> None:
    # Six circles make twelve locks, 17.3 mm apart; the row that fills the last wide gap locks the turn.
    (turn,) = sliding(laid_of([LOOSE, *meridians(6)], PITCH))
    assert turn.locks.tolist() == [1, 2, 3, 4, 5, 6]
    assert turn.largest_gap == pytest.approx(240 * np.cos(np.radians(30)) / 12 * MM)
    assert turn.locked_by == 6
    (wider,) = sliding(laid_of([LOOSE, *meridians(6)], PITCH), reach=36 * MM)
    assert wider.locked_by == 5  # one place in twelve still open: twice 17.3 mm
    (widest,) = sliding(laid_of([LOOSE, *meridians(6)], PITCH), reach=104 * MM)
    assert widest.locked_by == 1


def test_too_few_locks_leave_it_loose() -> None:
    (turn,) = sliding(laid_of([LOOSE, *meridians(3)], PITCH))
    assert turn.locked_by is None
    assert turn.largest_gap == pytest.approx(240 * np.cos(np.radians(30)) / 6 * MM)


def test_threads_that_pass_under_do_not_lock() -> None:
    (turn,) = sliding(laid_of([LOOSE, *meridians(6)], PITCH), UnderRule(1, 0, "all"))
    assert (len(turn.locks), turn.locked_by) == (0, None)


def test_a_turn_that_goes_under_earlier_thread_is_locked_as_it_is_laid() -> None:
    laid = laid_of([*meridians(6, layer=0), turns(Z, 0.5, 1, 0, 1)], PITCH)
    (turn,) = sliding(laid, UnderRule(1, 0, "all"))
    assert turn.locked_by == turn.row == 6
    assert turn.locks.tolist() == [0, 1, 2, 3, 4, 5]


def test_one_lock_leaves_the_whole_turn_free() -> None:
    post = legs(unit(np.array([[1.0, 0, 0.4]])), unit(np.array([[1.0, 0, 0.8]])), 1, 0, 1)
    (turn,) = sliding(laid_of([LOOSE, post], PITCH))
    assert turn.locks.tolist() == [1]
    assert turn.largest_gap == pytest.approx(2 * np.pi * np.cos(np.radians(30)))


def test_an_open_arc_is_held_at_its_ends() -> None:
    short = laid_of([LOOSE], PITCH)
    fields = {name: getattr(short, name) for name in Laid.__dataclass_fields__} | {"sweep": np.array([0.1])}
    (arc,) = sliding(Laid(**fields))
    assert arc.largest_gap == pytest.approx(0.1 * np.cos(np.radians(30)))
    assert arc.locked_by == arc.row == 0
    assert arc.keeper_pins == 1
