"""Dividing the bare ball: points, guidelines, addresses, pins and the marking thread's way."""
