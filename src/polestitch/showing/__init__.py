"""Pieces and showing: records of finished balls, and exhibitions of them."""
