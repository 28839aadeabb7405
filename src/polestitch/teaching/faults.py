"""Common faults and their remedies, with the page each was read on.

In: a design's techniques.  Out: the faults that can happen in this class, by stage.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal

When = Literal["base", "marking", "stitching"]


@dataclass(frozen=True)
class Fault:
    """What is seen, why, what to do; ``techniques`` empty: with any of them."""

    when: When
    seen: str
    why: str
    mend: str
    source: str
    techniques: tuple[str, ...] = ()


TK = "temarikai.com"
FAULTS = (
    Fault(
        "base",
        "The equator will not lie midway, poles wander",
        "the ball is not round",
        "Roll it, add thin yarn and thread where it is flat, or try another place for N.",
        f"{TK}/obitrouble.html",
    ),
    Fault(
        "base",
        "Lumps",
        "thick last yarn, or winding in one plane",
        "Wind a thin last layer. Keep turning the ball.",
        f"{TK}/HowToPages/equatorproblems.html",
    ),
    Fault(
        "base",
        "The needle hardly goes in",
        "wound too tightly, or a dense core",
        "Wind at moderate tension.",
        "kumotemari.blogspot.com/2011/09/anatomy-of-temari-part-three.html",
    ),
    Fault(
        "marking",
        "Sections come out unequal",
        "slanted pins, or thread on both sides of the pins",
        "Set pins straight down, pass all on the same side, straighten the lines before tacking.",
        f"{TK}/TKToolKit/tktoolkit01littlethings.html",
    ),
    Fault(
        "marking",
        "Crossings miss their pins",
        "lines are dragged off while they are laid",
        "Lay them again in one order, leave the pins in, tack late (the tacking is a hypothesis; ask a maker).",
        "eccentricquilter.wordpress.com/2013/06/25/temari-3/",
        ("polygon", "tri_wing", "hemp_leaf", "rose"),
    ),
    Fault(
        "stitching",
        "Points blunt, bunched, riding up onto earlier rows",
        "bites too close at sharp angles, or too much tension",
        "Stretch the points about 2 mm in size 5. Lay the thread first, then take the bite.",
        f"{TK}/HowToPages/stretchpoints.html",
        ("uwagake", "star", "spindle", "shitagake"),
    ),
    Fault(
        "stitching",
        "Points of unequal length",
        "nobody measured",
        "Measure from tip to equator every row or two.",
        "kernology.com/blog/temari-lesson-5",
        ("uwagake", "star", "spindle", "shitagake"),
    ),
    Fault(
        "stitching",
        "The pole clogs, no room for more rows",
        "the first row is tight, or the inner points are too near",
        "Leave row 1 a little loose.",
        "temari-addict-australia.blogspot.com/2011/04/kiku-chrysanthemum-temari-for-japan.html",
        ("uwagake", "shitagake", "both_poles"),
    ),
    Fault(
        "stitching",
        "A fat, wide flower at the pole",
        "top bites are not drawn in round the former ones",
        "Gather the former bites with each new one.",
        "nancysbestitched.wordpress.com/temari1a/",
        ("uwagake",),
    ),
    Fault(
        "stitching",
        "Gaps between rows in a solid shape",
        "legs reversed, mostly at the closing stitch",
        "Keep the order of the two legs the same at every bite.",
        "temarimath.info/investigations/kagari/kagari.html",
        ("polygon", "uwagake", "rose", "star"),
    ),
    Fault(
        "stitching",
        "Both-pole work looks bumpy",
        "the ball was flipped over",
        "Keep the pin at N in, and look at it before each bite.",
        f"{TK}/patterns/StitchAlongs/tem0801.html",
        ("both_poles",),
    ),
    Fault(
        "stitching",
        "The band slips while it is wound",
        "slippery metallic thread, or nothing holds it yet",
        "Set keeper pins. Tie it or stitch a zigzag over it.",
        f"{TK}/PatternsPages/SimplePg2/JD03.html",
        ("band",),
    ),
    Fault(
        "stitching",
        "The join of a band shows",
        "the needle goes in at an angle, or all starts lie in one place",
        "Hold the needle parallel to the band. Stagger the starts.",
        f"{TK}/HowToPages/makihints.html",
        ("band",),
    ),
    Fault(
        "stitching",
        "Thread tangles or untwists",
        "the needle rolls between the fingers, more so where the twist runs against the hand",
        "Let needle and thread hang and untwist now and then (a hypothesis; ask a maker).",
        "eccentricquilter.wordpress.com/2013/06/25/temari-3/",
    ),
    Fault(
        "stitching",
        "Thread catches on pins",
        "many pins stand out of the ball",
        "Pull pins after row 1. Push the others fully in.",
        "note.mu/temari_cat/n/n5c1cf89b19d2",
    ),
    Fault(
        "stitching",
        "Stitches slide",
        "the thread wrap is thin or lies parallel",
        "Wind the wrap at random and deeper next time.",
        f"{TK}/wrappingtips.html",
    ),
)


def faults(techniques: Iterable[str]) -> tuple[Fault, ...]:
    """Those that fit any of ``techniques``, in the order of work."""
    used = set(techniques)
    return tuple(fault for fault in FAULTS if not fault.techniques or used & set(fault.techniques))
