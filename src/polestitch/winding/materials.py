"""What a base is made of: cores and wraps, and how densely they pack.

In: nothing.  Out: ``CORES``, ``WRAPS`` and ``NOISES`` by name.

Densities are of the material as it lies wound, air between included.  No page states them: they are estimates with
wide ranges, and her own balls narrow them (``log.py``).  What can be checked is: a gallon of hulls weighs about a
pound (http://www.temarikai.com/HowToPages/ricehulls.html), balls of 8 cm and 10 cm weigh 80 g and 110 g
(http://temari-cat.blogspot.com/), 250 yd of sewing thread cover a 2.5 in core with yarn
(http://www.diynetwork.com/diy/na_knitting/article/0,2025,DIY_14141_2274131,00.html).
Raw rice weighs 185 g a cup of 236.6 ml (a national food table, from memory).
"""

from dataclasses import dataclass
from typing import NamedTuple


class Range(NamedTuple):
    """A figure that is not known exactly."""

    low: float
    likely: float
    high: float

    def times(self, factor: float) -> "Range":
        """The range scaled by a figure that is known."""
        return Range(self.low * factor, self.likely * factor, self.high * factor)


@dataclass(frozen=True)
class Core:
    """What stands in the middle."""

    name: str
    title: str
    density: Range  # g/cm³ as it lies in the ball
    loose: float | None  # loose volume over packed volume, for what is measured in cups
    hint: str
    caution: str = ""


@dataclass(frozen=True)
class Material:
    """What is wound round it."""

    name: str
    title: str
    density: Range  # g/cm³ wound
    tex: float | None  # grams a kilometre; None for what is no thread
    least_mm: float  # thickness below which it does not do its work
    share: float  # of the winding's thickness it usually takes
    hint: str


@dataclass(frozen=True)
class Noise:
    """What sounds inside, in a small capsule at the very middle."""

    name: str
    title: str
    capsule_ml: float  # room it takes: a rattle needs air
    grams: Range
    piece_mm: float  # the largest piece across
    hint: str


FARM = (
    "Hulls are dried by heat to keep insects out: in small lots, never left alone, and they stay hot inside for a long "
    "time. Ask somebody qualified if you have never done it."
)
BURST = "A bag that bursts makes small parts."
AFLAME = "It catches fire easily: keep it from flames and hot plates."
CORES = {
    core.name: core
    for core in (
        Core(
            "hulls",
            "rice hulls in a thin bag",
            Range(0.14, 0.18, 0.22),
            1.5,
            "Prick the bag so that air can leave while you wind.",
            f"{FARM} {BURST}",
        ),
        Core(
            "paper hulls",
            "rice hulls in thin paper",
            Range(0.14, 0.18, 0.22),
            1.5,
            "Wind thin cotton until the paper vanishes, and go on: under too thin a wind its fibres come through.",
            f"{FARM} Paper that tears lets hulls out, which are small parts.",
        ),
        Core(
            "foam",
            "foam ball",
            Range(0.015, 0.02, 0.03),
            None,
            "Wind batting or yarn over it first: the needle must not strike foam.",
        ),
        Core(
            "soft",
            "socks or stockings",
            Range(0.15, 0.22, 0.32),
            None,
            "Cut elastic off: it blunts the needle and turns it aside.",
        ),
        Core(
            "scraps",
            "fabric scraps or old clothes",
            Range(0.15, 0.22, 0.35),
            None,
            "Cut off buttons, zips and elastic. Roll strips up and turn the ball as you go.",
        ),
        Core(
            "lint",
            "dryer lint or thread ends",
            Range(0.06, 0.1, 0.18),
            None,
            "Press it into a thin stocking and tie it off.",
            AFLAME,
        ),
        Core("fibrefill", "fibrefill", Range(0.04, 0.07, 0.12), None, "Stuff a thin stocking as hard as you can."),
        Core("wadding", "cotton wadding", Range(0.06, 0.1, 0.15), None, "Roll it up tight before you begin to wind."),
        Core(
            "chips",
            "packing foam chips in a bag",
            Range(0.01, 0.02, 0.04),
            1.5,
            "Prick the bag so that air can leave while you wind.",
            f"{BURST} Chips of starch go soft when they are damp.",
        ),
        Core(
            "sawdust",
            "sawdust or wood shavings in a bag",
            Range(0.15, 0.22, 0.32),
            1.4,
            "Dry it well, sieve it, and prick the bag.",
            f"Sift it outdoors and do not breathe the dust. {BURST}",
        ),
        Core(
            "sponge",
            "sponge",
            Range(0.02, 0.04, 0.08),
            None,
            "Trim it round. It gives under tension: measure again after the first yarn.",
        ),
        Core(
            "fern fluff",
            "fern fluff or other plant down",
            Range(0.04, 0.08, 0.14),
            None,
            "Dry it well and wrap it in thin cloth.",
            AFLAME,
        ),
    )
}
NOISES = {
    noise.name: noise
    for noise in (
        # Sizes and weights of what is sold or found in a kitchen: common practice, no source.
        Noise("bell", "a small bell", 2.0, Range(2.0, 4.0, 7.0), 15.0, "Let it hang free in a small hard capsule."),
        Noise("two bells", "two small bells", 5.0, Range(4.0, 8.0, 14.0), 15.0, "Put both in one hard capsule."),
        Noise("rice", "a spoonful of raw rice", 10.0, Range(3.0, 3.9, 4.7), 8.0, "Half fill a small hard capsule."),
        Noise("seeds", "a spoonful of seeds", 10.0, Range(2.0, 3.5, 4.5), 10.0, "Half fill a small hard capsule."),
        Noise(
            "nuts", "two or three small nuts", 15.0, Range(5.0, 9.0, 14.0), 20.0, "Use a capsule they roll about in."
        ),
        Noise("wish", "a wish on paper", 1.0, Range(0.3, 0.5, 1.0), 60.0, "Fold it small. It makes no sound."),
    )
}
WRAPS = {
    wrap.name: wrap
    for wrap in (
        Material("batting", "batting", Range(0.05, 0.08, 0.14), None, 2.0, 0.35, "Lay it on in pieces, edge to edge."),
        Material(
            "thick yarn",
            "thick yarn",
            Range(0.22, 0.32, 0.42),
            600.0,
            2.0,
            0.55,
            "Turn the ball in every direction; wind round its full width.",
        ),
        Material(
            "thin yarn",
            "thin yarn",
            Range(0.26, 0.36, 0.46),
            250.0,
            1.5,
            0.3,
            "This is the last chance to mend lumps: the thread cannot.",
        ),
        Material(
            "crochet thread",
            "crochet thread",
            Range(0.4, 0.52, 0.65),
            180.0,  # size 10, from memory
            0.5,
            0.15,
            "It keeps the fuzz of the yarn down.",
        ),
        Material(
            "sewing thread",
            "sewing thread",
            Range(0.4, 0.55, 0.7),
            27.0,
            0.7,
            0.15,
            "One strand, crossing at random; parallel thread lets stitches slide.",
        ),
    )
}
