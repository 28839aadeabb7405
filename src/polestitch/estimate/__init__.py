"""Thread and time: how much of each colour, in which pieces, and how many hours of work."""

from polestitch.estimate.amounts import Amount, Estimate, estimate
from polestitch.estimate.hours import Assumption, Hours, Part
from polestitch.estimate.pieces import Piece, Spot
from polestitch.estimate.worked import Base, Besides, MarkingThread, rows_worked

__all__ = [
    "Amount",
    "Assumption",
    "Base",
    "Besides",
    "Estimate",
    "Hours",
    "MarkingThread",
    "Part",
    "Piece",
    "Spot",
    "estimate",
    "rows_worked",
]
