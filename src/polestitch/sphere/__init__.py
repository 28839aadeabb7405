"""Geometry of the unit sphere: numpy in, numpy out, no craft words. A bare number here is an angle in radians."""
