"""Winding a base to a wanted size: where to stop at each wrap, and how much of each material it takes."""

from polestitch.winding.log import Entry, entries_of, learned
from polestitch.winding.materials import CORES, WRAPS, Core, Material, Range
from polestitch.winding.plan import Plan, Stop, winding

__all__ = [
    "CORES",
    "WRAPS",
    "Core",
    "Entry",
    "Material",
    "Plan",
    "Range",
    "Stop",
    "entries_of",
    "learned",
    "winding",
]
