"""How the maker handles thread, in mm: what each bite, each start and each way between rows costs.

In: the document's maker.  Out: ``Handling``.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from polestitch.document.design import Maker
from polestitch.document.limits import DIP, ENDS, WORKING_LENGTH, plain_mm


@dataclass(frozen=True)
class Handling:
    """Lengths in mm.

    ``ends`` is run under the wrap at each start and again at each end.  ``rests``: a thread may wait
    on its own needle while others are worked.
    """

    working_length: float
    ends: float
    dip: float
    rests: bool

    def bite(self, half: NDArray[np.float64]) -> NDArray[np.float64]:
        """Thread inside a bite of half-width ``half``: down to ``dip`` under its middle and up again."""
        return np.asarray(2 * np.hypot(half, self.dip))

    def way(self, mm: float, *, at_once: bool) -> float:
        """Thread from the end of one row to the start of the next, ``mm`` away.

        Run under the wrap (out and in again at the same hole where it is far), unless an end and a new
        start take less, or other threads are worked in between (not ``at_once``).
        """
        return min(mm, 2 * self.ends) if at_once or self.rests else 2 * self.ends


def handling(maker: Maker) -> Handling:
    """How the maker handles thread; ``DesignError`` for a length that has no millimetres."""
    return Handling(
        plain_mm(maker.working_length, "maker.working_length", WORKING_LENGTH),
        plain_mm(maker.ends, "maker.ends", ENDS),
        plain_mm(maker.own_dip, "maker.dip", DIP),
        maker.needles == "one a colour",
    )
