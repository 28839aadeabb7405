"""Labels that keep out of each other's way.

In: texts with the places they would like, best first.  Out: the texts that found room.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field, replace

import numpy as np
from numpy.typing import NDArray

from polestitch.sheets.lettering import text_box
from polestitch.sheets.sheet import Box, Text

GAP = 0.6  # mm of white between labels


def overlap(a: Box, b: Box, gap: float = 0.0) -> bool:
    """Whether two boxes come nearer than ``gap``."""
    return a[0] - gap < b[2] and b[0] - gap < a[2] and a[1] - gap < b[3] and b[1] - gap < a[3]


@dataclass
class Room:
    """Boxes already taken on one drawing; the only thing here that changes, and only while it is drawn."""

    taken: list[Box] = field(default_factory=list)

    def take(self, mark: Text) -> Text:
        """Claim the place of ``mark`` whatever is there."""
        self.taken.append(text_box(mark))
        return mark

    def free(self, mark: Text) -> bool:
        """Whether ``mark`` touches nothing taken."""
        box = text_box(mark)
        return not any(overlap(box, other, GAP) for other in self.taken)

    def first_free(self, wishes: Iterable[Text]) -> Text | None:
        """The first of ``wishes`` that touches nothing, claimed."""
        for mark in wishes:
            if self.free(mark):
                return self.take(mark)
        return None


def beside(
    text: Text,
    middle: Sequence[float] | NDArray[np.float64],
    ways: Sequence[Sequence[float]],
    avoid: NDArray[np.float64],
) -> list[Text]:
    """``text`` set at each offset of ``ways`` from ``middle``, those farthest from the points ``avoid`` first.

    Beyond 2 mm it makes no difference; among equals the order of ``ways`` stands.
    """
    wishes = []
    for rank, (dx, dy) in enumerate(ways):
        x, y = float(middle[0]) + dx, float(middle[1]) + dy
        near = float(np.hypot(avoid[:, 0] - x, avoid[:, 1] - y).min()) if len(avoid) else 2.0
        wishes.append((-min(near, 2.0), rank, replace(text, x=x, y=y + 0.34 * text.size * 25.4 / 72, anchor="middle")))
    return [mark for _, _, mark in sorted(wishes, key=lambda wish: wish[:2])]
