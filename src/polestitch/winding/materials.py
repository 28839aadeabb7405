"""What a base is made of: cores and wraps, and how densely they pack.

In: nothing.  Out: ``CORES`` and ``WRAPS`` by name.

Densities are of the material as it lies wound, air between included.  No page states them: they are estimates with
wide ranges, and her own balls narrow them (``log.py``).  What can be checked is: a gallon of hulls weighs about a
pound (http://www.temarikai.com/HowToPages/ricehulls.html), balls of 8 cm and 10 cm weigh 80 g and 110 g
(http://temari-cat.blogspot.com/), 250 yd of sewing thread cover a 2.5 in core with yarn
(http://www.diynetwork.com/diy/na_knitting/article/0,2025,DIY_14141_2274131,00.html).
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


CORES = {
    core.name: core
    for core in (
        Core(
            "hulls",
            "rice hulls in a thin bag",
            Range(0.14, 0.18, 0.22),
            1.5,
            "Prick the bag so that air can leave while you wind.",
            "Hulls are dried by heat to keep insects out: in small lots, never left alone, and they stay hot inside "
            "for a long time. A bag that bursts makes small parts.",
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
            "socks, stockings or fibre",
            Range(0.15, 0.22, 0.32),
            None,
            "Cut elastic off: it blunts the needle and turns it aside.",
        ),
        Core("wadding", "cotton wadding", Range(0.06, 0.1, 0.15), None, "Roll it up tight before you begin to wind."),
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
