"""Tests of the families of patterns."""
