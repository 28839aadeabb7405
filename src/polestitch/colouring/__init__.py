"""Colour plans: which thread goes to which motif, row or layer, and how many really different plans there are."""

from polestitch.colouring.plans import Plans, Wanted, colour_plans
from polestitch.colouring.rules import Rules

__all__ = ["Plans", "Rules", "Wanted", "colour_plans"]
