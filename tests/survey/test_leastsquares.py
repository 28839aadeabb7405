"""The adjustment itself against published worked examples and scipy."""

import numpy as np
import pytest
from scipy.optimize import least_squares
from scipy.stats import norm

from polestitch.survey.leastsquares import Solved, critical

# A levelling loop 1a, 4, 3, 2 read forward and back, 5 mm a reading; input and printed output of a general
# adjustment program: http://www.vrmapper.com/gama/1doutput.html
LOOP = [
    (None, 0, -1.225), (0, 1, -0.848), (1, 2, 1.342), (2, None, 0.720),
    (None, 2, -0.724), (2, 1, -1.335), (1, 0, 0.842), (0, None, 1.231),
]  # fmt: skip
HEIGHTS = [998.77513, 997.93325, 999.27487]
DOUBTS_MM = [3.1, 3.5, 3.1]


@pytest.fixture(scope="module")
def loop() -> Solved:
    a, wanted = np.zeros((len(LOOP), 3)), np.array([rise for _, _, rise in LOOP])
    for k, (start, end, _) in enumerate(LOOP):
        for point, sign in ((end, 1), (start, -1)):
            if point is None:
                wanted[k] -= sign * 1000.0  # the height of 1a, which is known
            else:
                a[k, point] += sign
    return Solved(a, wanted, np.full(len(LOOP), 0.005))


def test_a_levelling_loop_comes_out_as_published(loop: Solved) -> None:
    heights = np.round(loop.correction, 5)
    assert heights.tolist() == pytest.approx(HEIGHTS, abs=1.1e-5)
    doubts = np.sqrt(np.diag(loop.covariance)) * 1000
    assert np.round(doubts, 1).tolist() == DOUBTS_MM
    assert loop.freedom == 5
    assert round(loop.unit * 5, 2) == 5.42  # published: m0' a posteriori, mm


def test_the_worst_residual_is_the_published_one(loop: Solved) -> None:
    tests = np.abs(loop.tests)
    assert int(tests.argmax()) + 1 == 6
    assert round(float(tests.max()), 2) == 1.68
    assert loop.redundancy.sum() == pytest.approx(5)


def test_critical_values_are_those_of_the_normal_distribution() -> None:
    for significance in (0.05, 0.01, 0.001):
        assert critical(significance) == pytest.approx(norm.ppf(1 - significance / 2))


def test_a_plane_trilateration_agrees_with_scipy() -> None:
    """Three distances to one point: data from memory (Ghilani, *Adjustment Computations*, chapter on trilateration)."""
    known = np.array([[865.40, 4527.15], [2432.55, 2047.25], [2865.22, 27.15]])
    read = np.array([6049.00, 4736.83, 5446.49])
    place = np.array([6861.0, 3728.0])
    for _ in range(6):
        away = place - known
        size = np.hypot(*away.T)
        solved = Solved(away / size[:, None], read - size, np.ones(3))
        place = place + solved.correction
    found = least_squares(lambda p: np.hypot(*(p - known).T) - read, [6800.0, 3700.0], xtol=1e-14, ftol=1e-14)
    assert place.tolist() == pytest.approx(found.x.tolist(), abs=1e-6)
    assert solved.residuals.tolist() == pytest.approx(found.fun.tolist(), abs=1e-6)
    assert solved.covariance.ravel().tolist() == pytest.approx(
        np.linalg.inv(found.jac.T @ found.jac).ravel().tolist(), rel=1e-5
    )


def test_what_nothing_is_read_of_stays_open() -> None:
    solved = Solved(np.array([[1.0, 1.0, 0.0]]), np.array([2.0]), np.array([0.5]))
    assert solved.rank == 1
    assert solved.correction.tolist() == pytest.approx([1, 1, 0])
    assert solved.unknown.shape == (3, 2)
    assert np.isinf(solved.detectable(0.001, 0.8)).all()
