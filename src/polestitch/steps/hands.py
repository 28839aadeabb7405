"""Which way the work goes, in words for this maker's hand.

In: a motif.  Out: ``Hand``.
"""

from typing import NamedTuple

import numpy as np

from polestitch.stitching.motifs import Motif


class Hand(NamedTuple):
    """``forward`` is the side the work travels to, ``back`` the side where the needle comes out."""

    forward: str
    back: str

    @property
    def bite(self) -> str:
        """Which way the needle goes through the wrap."""
        return f"from {self.forward} to {self.back}"


def hand_of(motif: Motif) -> Hand:
    """A right-hander's words, or mirrored ones where the motif's frame is mirrored."""
    return Hand("right", "left") if np.linalg.det(motif.frame) > 0 else Hand("left", "right")
