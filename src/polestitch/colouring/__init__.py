"""Colour plans: which thread goes to which motif, row or layer, how many really different plans there are, how well
their colours part."""

from polestitch.colouring.plans import Plans, Wanted, colour_plans
from polestitch.colouring.rules import Rules

__all__ = ["Plans", "Rules", "Wanted", "colour_plans"]
