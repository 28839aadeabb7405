"""Which sides a net of faces has, and which face lies on either hand.

In: the three faces that meet at each corner.  Out: rows.
"""

import numpy as np

from polestitch.marking.lattice import Rows


def face_sides(meeting: Rows) -> tuple[Rows, Rows]:
    """Corner pairs (e, 2), lower first, and the pair of faces (e, 2) each side parts.

    Two corners are joined where they have two faces in common; two faces of a net with so few
    corners (the four of C6/4) never share more than one side.
    """
    corners = np.arange(len(meeting))
    pairs = np.concatenate([meeting[:, [0, 1]], meeting[:, [0, 2]], meeting[:, [1, 2]]])
    pairs, owner = np.sort(pairs, axis=1), np.tile(corners, 3)
    order = np.lexsort((owner, pairs[:, 1], pairs[:, 0]))
    return np.stack([owner[order][::2], owner[order][1::2]], axis=1), pairs[order][::2]
