"""Rows become thread with thickness: where it settles, what it crosses, what lies on top."""
