"""A ball cut through the middle: core, wraps, and what sounds in it, to scale.

In: a winding plan.  Out: a block: the drawing on the left, each layer's name and depth beside it.
"""

import math

from polestitch.sheets.blocks import Block
from polestitch.sheets.sheet import INK, MOSS, QUIET, WHITE, Circle, Line, Mark, Path, Pen, Text
from polestitch.sheets.strip_column import spread
from polestitch.winding import Plan
from polestitch.winding.plan import TURN, capsule_mm

WIDEST = 92.0  # mm across the page
SCALES = (1, 2, 3, 4, 5, 8, 10)
# From pale to dark, so that neighbours differ in black and white too.
FILLS = ("#ffffff", "#e6dfd0", "#cfc6b2", "#b5ab94", "#978d78")
CORE_FILL = "#f4efe5"
LABEL_PITCH = 9.0
LEADER = Pen(QUIET, 0.15)


def scale_of(plan: Plan) -> int:
    """The ball is drawn at 1 to so much: true size where the page holds it."""
    across = plan.wanted_mm / math.pi
    return next((scale for scale in SCALES if across / scale <= WIDEST), SCALES[-1])


def cut_through(plan: Plan, width: float) -> Block:
    """The drawing with its labels, ``width`` mm wide."""
    scale = scale_of(plan)
    radius = plan.wanted_mm / TURN / scale
    middle = (radius + 1.0, radius + 2.0)
    marks: list[Mark] = []
    for k in reversed(range(len(plan.stops))):
        fill = MOSS if k == len(plan.stops) - 1 else FILLS[k % len(FILLS)]
        marks.append(Circle(*middle, plan.stops[k].around_mm / TURN / scale, Pen(INK, 0.15), fill))
    marks.append(Circle(*middle, plan.core_mm / TURN / scale, Pen(INK, 0.2), CORE_FILL))
    if plan.noise is not None:
        marks.append(Circle(*middle, capsule_mm(plan.noise) / 2 / scale, Pen(INK, 0.25, (1.0, 0.8)), WHITE))
    marks += _labels(plan, middle, scale)
    height = 2 * radius + 8.0
    said = "True size." if scale == 1 else f"Drawn at 1 : {scale}."
    through = f"{said} {plan.wanted_mm / math.pi:.1f} mm through."
    marks.append(Text(middle[0], height - 1.2, through, "sans", 8, "middle", QUIET))
    return Block(max(height, (len(plan.stops) + 2) * LABEL_PITCH), tuple(marks))


def _labels(plan: Plan, middle: tuple[float, float], scale: int) -> list[Mark]:
    """From the outside in, top to bottom: each with a leader to the middle of its layer."""
    told = [
        ((stop.from_mm + stop.around_mm) / 2, stop.material.title, f"{stop.thickness_mm:.1f} mm deep")
        for stop in reversed(plan.stops)
    ]
    told.append((plan.core_mm * 0.75, plan.core.title, f"{plan.core_mm / math.pi:.1f} mm through"))
    if plan.noise is not None:
        told.append((0.0, plan.noise.title, f"in a capsule {capsule_mm(plan.noise):.0f} mm through"))
    radius = plan.wanted_mm / TURN / scale
    wanted = [middle[1] - radius * 0.75 + k * 2 * radius / (len(told) + 1) for k in range(len(told))]
    heights = spread(wanted, LABEL_PITCH, 3.0, 2 * radius + 6.0)
    drawn: list[Mark] = []
    for (around, name, deep), y in zip(told, heights, strict=True):
        reach = around / TURN / scale
        up = max(-1.0, min(1.0, (y - middle[1]) / reach)) if reach else 0.0
        turn = math.asin(up * 0.85)
        x, at = middle[0] + reach * math.cos(turn), middle[1] + reach * math.sin(turn)
        side = middle[0] + radius + 8.0
        drawn += [
            Circle(x, at, 0.45, Pen(WHITE, 0.15), INK),
            Path((x, at), ((side - 3.0, y), (side, y)), LEADER),
            Line(side, y, side, y, LEADER),
            Text(side + 1.5, y - 0.3, name, "sans bold", 8.5),
            Text(side + 1.5, y + 3.5, deep, "sans", 8, "start", QUIET),
        ]
    return drawn
