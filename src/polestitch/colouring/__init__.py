"""Colour plans: which thread goes to which of a layer's like motifs, and how many really different plans there are."""

from polestitch.colouring.plans import Plans, colour_plans
from polestitch.colouring.rules import Rules

__all__ = ["Plans", "Rules", "colour_plans"]
