"""Thread and time: how much of each colour, in which pieces, and how many hours of work."""

from polestitch.estimate.amounts import Amount, Estimate, MarkingThread, estimate
from polestitch.estimate.hours import Assumption, Hours, Part
from polestitch.estimate.pieces import Piece, Spot

__all__ = ["Amount", "Assumption", "Estimate", "Hours", "MarkingThread", "Part", "Piece", "Spot", "estimate"]
