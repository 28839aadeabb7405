"""Polestitch: a studio for people who make temari, stitched thread balls."""

__version__ = "0.1.0"
