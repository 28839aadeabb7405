"""Colour plans for a whole design: what takes a thread each, the best dozen, their pictures, and one of them put in."""
