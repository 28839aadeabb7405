"""What can hurt about a base, and whether its thread lies deep enough for the stitches.

In: a plan's or an outcome's figures.  Out: sentences.
"""

import math
from collections.abc import Sequence

from polestitch.winding.materials import Core, Material, Noise
from polestitch.winding.plan import capsule_mm

NEEDLE_MM = 57.0  # yarn darner 18, 2 1/4 in: published, craft lessons name it
# 16 CFR 1501.4: what goes into a cylinder 31.7 mm across and up to 57.1 mm deep is a small part.
CYLINDER_MM = 31.7
# 16 CFR 1500.19(a)(2): a ball that falls through a hole 44.4 mm across is a small ball.
SMALL_BALL_MM = 44.4
THREADS = ("crochet thread", "sewing thread")
TOYS = (
    "A ball for a child must meet your local rules for toys; ask somebody qualified when in doubt. Count your needles "
    "and pins."
)


def cautions(around_mm: float, core: Core, noise: Noise | None) -> tuple[str, ...]:
    """What can hurt, and who decides."""
    across = around_mm / math.pi
    found = [core.caution] if core.caution else []
    if across < NEEDLE_MM:
        found.append(
            f"The ball is {across:.0f} mm through: a darning needle of {NEEDLE_MM:.0f} mm comes out on the other side, "
            "near your fingers. Take a short needle and hold the ball beside the stitch."
        )
    if across < SMALL_BALL_MM:
        found.append(
            f"A ball under {SMALL_BALL_MM} mm across is a small ball in toy rules: a small child can choke on it."
        )
    if noise is not None and noise.piece_mm < CYLINDER_MM:
        found.append(
            f"{noise.title[0].upper()}{noise.title[1:]} is a small part: a child who opens the ball can swallow it. "
            "Close the capsule for good and wind over it from all sides."
        )
    return (*found, TOYS)


def bite_said(last: Material, thickness_mm: float, dip_mm: float, under_mm: float) -> tuple[bool, str]:
    """Whether a needle that dips ``dip_mm`` finds hold, and the same in words; ``under_mm`` lies below the thread."""
    if last.name != "sewing thread":
        return False, f"{last.title[0].upper()}{last.title[1:]} works up as fuzz: wind sewing thread over it last."
    if thickness_mm >= dip_mm - 1e-9:
        held = f"Your needle goes {dip_mm:g} mm deep; {last.title} lies {thickness_mm:.1f} mm deep, so stitches hold."
        return True, held
    if thickness_mm + under_mm < dip_mm:
        return False, (
            f"Your needle goes {dip_mm:g} mm deep and strikes the core: all that is wound is "
            f"{thickness_mm + under_mm:.1f} mm deep. Wind more."
        )
    return False, (
        f"Your needle goes {dip_mm:g} mm deep, but {last.title} lies only {thickness_mm:.1f} mm deep: stitches pull up "
        f"what is under it. Wind it {dip_mm:g} mm deep."
    )


def order_said(core: Core, wraps: Sequence[Material]) -> tuple[str, ...]:
    """What is wrong with the order of the wraps: lumps the thread cannot hide, foam the needle strikes."""
    names = [wrap.name for wrap in wraps]
    found = []
    if "batting" in names[1:]:
        found.append("Lay batting on the core itself: over yarn it stays soft, and stitches sink in.")
    if "thick yarn" in names and (names[-1] == "thick yarn" or names[names.index("thick yarn") + 1] in THREADS):
        found.append("Wind thin yarn over thick yarn: lumps of a thick last layer show through the thread.")
    if core.name == "foam" and names[0] in THREADS:
        found.append("Wind batting or yarn between foam and thread: the needle must not strike foam.")
    return tuple(found)


def noise_said(noise: Noise, buried_mm: float) -> str:
    """What to do with what sounds."""
    return (
        f"Put {noise.title} at the very middle of the core, in a capsule about {capsule_mm(noise):.0f} mm across. "
        f"{noise.hint} It then lies {buried_mm:.0f} mm under the surface."
    )
