"""Layers become rows of bites."""
