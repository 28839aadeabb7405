"""Hours left: the estimate, scaled by how this maker's own hours have gone so far.

In: seconds a step should take, which steps are done, hours logged.  Out: low, likely, high hours left.

The ratio of logged to estimated hours is her pace.  It is believed as far as there is work to show for it: with E
estimated hours done it weighs E / (E + 2), the rest is the estimate's own 1.  The interval of the estimate narrows by
the same share, in proportion (on a logarithmic scale), and never below a tenth either way.
"""

from typing import NamedTuple

HALF_BELIEVED = 2.0  # estimated hours of work after which her own pace weighs as much as the estimate
NARROWEST = 1.1
WILDEST = 4.0  # a ratio further off says that a clock was left running, or never started


class Left(NamedTuple):
    """Hours of work left."""

    low: float
    likely: float
    high: float


def hours_left(todo: float, done: float, logged: float, span: tuple[float, float]) -> Left:
    """What is left of ``todo`` estimated hours, with ``done`` estimated hours behind her and ``logged`` real ones.

    ``span`` is the estimate's own low and high, as multiples of its likely value.
    """
    known = done > 0 and logged > 0
    weight = done / (done + HALF_BELIEVED) if known else 0.0
    pace = min(max(logged / done, 1 / WILDEST), WILDEST) if known else 1.0
    likely = todo * (weight * pace + 1 - weight)
    low, high = span
    narrowed = min(low ** (1 - weight), 1 / NARROWEST), max(high ** (1 - weight), NARROWEST)
    return Left(likely * narrowed[0], likely, likely * narrowed[1])
