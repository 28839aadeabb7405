"""Colour plans for a whole design: what can take a thread each, the best dozen, their pictures, and one of them put in."""
