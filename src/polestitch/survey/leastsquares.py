"""Least squares with everything a surveyor asks of it: doubt, redundancy, what cannot be known, what is misread.

In: a linear model, observations and how doubtful each is.  Out: ``Solved``.

Formulas: any textbook of adjustment computations; data snooping after Baarda, *A testing procedure for use in
geodetic networks*, 1968 (from memory).
"""

from dataclasses import dataclass
from functools import cached_property
from statistics import NormalDist

import numpy as np
from numpy.typing import NDArray

Numbers = NDArray[np.float64]
# A mixture of unknowns that observations fix no better than this many of its units counts as not fixed at all.
NOTHING = 1e9
# An observation with less redundancy than this is checked by no other.
UNCHECKED = 1e-6


@dataclass(frozen=True, eq=False)
class Solved:
    """The shortest correction that fits ``a @ correction`` to ``wanted`` best, each row weighted by 1 / sigma²."""

    a: Numbers  # (m, u)
    wanted: Numbers  # (m,) observed less computed
    sigma: Numbers  # (m,) standard deviation of each observation, in its own unit
    worst: float = NOTHING  # a mixture of unknowns more doubtful than this is left as it was

    @cached_property
    def _parts(self) -> tuple[Numbers, Numbers, Numbers, int]:
        left, sizes, right = np.linalg.svd(self.a / self.sigma[:, None], full_matrices=True)
        rank = int((sizes > 1 / self.worst).sum())
        return left[:, :rank], sizes[:rank], right.T, rank

    @property
    def rank(self) -> int:
        """How many unknowns, or mixtures of them, the observations fix."""
        return self._parts[3]

    @cached_property
    def correction(self) -> Numbers:
        """(u,) what to add to the unknowns; nothing along ``unknown``."""
        left, sizes, right, rank = self._parts
        return np.asarray(right[:, :rank] @ ((left.T @ (self.wanted / self.sigma)) / sizes))

    @cached_property
    def covariance(self) -> Numbers:
        """(u, u) of the correction; nothing along ``unknown``."""
        _, sizes, right, rank = self._parts
        held = right[:, :rank] / sizes
        return np.asarray(held @ held.T)

    @property
    def unknown(self) -> Numbers:
        """(u, d) orthonormal mixtures of unknowns that the observations leave open."""
        return self._parts[2][:, self.rank :]

    @cached_property
    def residuals(self) -> Numbers:
        """(m,) adjusted less observed."""
        return np.asarray(self.a @ self.correction - self.wanted)

    @cached_property
    def redundancy(self) -> Numbers:
        """(m,) share of an error of each observation that shows in its own residual, 0 to 1; their sum is m - rank."""
        left = self._parts[0]
        return np.clip(1 - np.einsum("ij,ij->i", left, left), 0, 1)

    @property
    def freedom(self) -> int:
        """Observations beyond what is needed."""
        return len(self.wanted) - self.rank

    @cached_property
    def tests(self) -> Numbers:
        """(m,) Baarda's w: residual over its own standard deviation, normal when nothing is misread; 0 unchecked."""
        checked = self.redundancy > UNCHECKED
        spread = self.sigma * np.sqrt(np.where(checked, self.redundancy, 1))
        return np.where(checked, self.residuals / spread, 0.0)

    def together(self, row: int) -> Numbers:
        """(m,) correlation of each test with that of ``row``; 0 where either is unchecked."""
        left = self._parts[0]
        shared = -(left @ left[row])
        shared[row] += 1
        spread = np.sqrt(self.redundancy * self.redundancy[row])
        return np.where(spread > UNCHECKED, shared / np.where(spread > UNCHECKED, spread, 1), 0.0)

    @cached_property
    def unit(self) -> float:
        """Standard deviation of unit weight after the adjustment; 1 without redundancy."""
        if self.freedom <= 0:
            return 1.0
        return float(np.sqrt(np.sum((self.residuals / self.sigma) ** 2) / self.freedom))

    def detectable(self, significance: float, power: float) -> Numbers:
        """(m,) least error of each observation that the test finds with ``power``; infinite where unchecked."""
        checked = self.redundancy > UNCHECKED
        least = critical(significance) + NormalDist().inv_cdf(power)
        return np.where(checked, least * self.sigma / np.sqrt(np.where(checked, self.redundancy, 1)), np.inf)


def critical(significance: float) -> float:
    """The size of a normal number that is passed with probability ``significance``, on either side."""
    return NormalDist().inv_cdf(1 - significance / 2)
