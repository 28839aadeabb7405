"""Time and money: hours of a ball by her own pace, and what a price is made of."""

from polestitch.costing.costs import Costs, ThreadPrice, costs_of, costs_schema
from polestitch.costing.pace import Pace, Span, hours_ahead, pace
from polestitch.costing.price import MakeUp, Piece, left_an_hour, make_up
from polestitch.costing.sitting import Sitting
from polestitch.costing.sittings import sittings_of
from polestitch.costing.threads import ThreadNeed

__all__ = [
    "Costs",
    "MakeUp",
    "Pace",
    "Piece",
    "Sitting",
    "Span",
    "ThreadNeed",
    "ThreadPrice",
    "costs_of",
    "costs_schema",
    "hours_ahead",
    "left_an_hour",
    "make_up",
    "pace",
    "sittings_of",
]
