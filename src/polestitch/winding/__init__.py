"""Winding a base: where to stop at each wrap, how much it takes, what comes of what she has, and how round it is."""

from polestitch.winding.have import Outcome, outcome
from polestitch.winding.log import Entry, Learned, entries_of, learned
from polestitch.winding.materials import CORES, NOISES, WRAPS, Core, Material, Noise, Range
from polestitch.winding.parts import Had, Parts, made_of, parts_of
from polestitch.winding.plan import Plan, Stop, winding

__all__ = [
    "CORES",
    "NOISES",
    "WRAPS",
    "Core",
    "Entry",
    "Had",
    "Learned",
    "Material",
    "Noise",
    "Outcome",
    "Parts",
    "Plan",
    "Range",
    "Stop",
    "entries_of",
    "learned",
    "made_of",
    "outcome",
    "parts_of",
    "winding",
]
