"""Speed of the stitching order on 150,000 crossings, against building ball A in the same run."""

from typing import Literal

import numpy as np

from benchmarks.balls import ball_a, ball_a_of
from benchmarks.building import in_process
from polestitch.laying.order import stitching_order
from polestitch.laying.weave import UnderRule, relation
from polestitch.pipeline import Build, build
from polestitch.symmetry import symmetry

# (pitch in mm, rows of a zigzag, rows of a band): ball A ever finer.
SIZES = ((0.6, 14, 12), (0.4, 21, 18), (0.28, 30, 26), (0.2, 42, 42))
WOVEN = (UnderRule(1, 0, "woven"), UnderRule(1, 1, "woven"))


def rows() -> list[tuple[str, float, float]]:
    """(goal, ratio, aim) for each line; a line beginning with '<=' is met when the ratio is at most the aim."""
    plain = build(ball_a())
    reference = in_process(lambda: build(ball_a()))
    made = build(ball_a_of(*SIZES[1]))
    return [
        (f"<= order of rows, {len(made.crossings)} crossings woven : build of A", ordered(made) / reference, 10.0),
        ("<= the same, span by span : build of A", ordered(made, "spans") / reference, 10.0),
        ("<= growth of the order with crossings: exponent", growth(), 1.2),
        ("<= symmetry of A : build of A", in_process(lambda: symmetry(plain.laid)) / reference, 1.0),
    ]


def ordered(made: Build, by: Literal["rows", "spans"] = "rows") -> float:
    """Seconds to resolve the rules and to order everything."""
    return in_process(
        lambda: stitching_order(made.laid, made.crossings, relation(made.laid, made.crossings, WOVEN).over, by)
    )


def growth() -> float:
    """Slope of log time over log crossings."""
    made = [build(ball_a_of(*size)) for size in SIZES]
    seconds = [ordered(one) for one in made]
    return float(np.polyfit(np.log([len(one.crossings) for one in made]), np.log(seconds), 1)[0])
