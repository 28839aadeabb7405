"""Her sittings at all pieces beside her chair, and the pace they come to.

In: an open store.  Out: ``Pace``.  Of a piece only the pages of steps that she sat at are opened.
"""

import json
from collections.abc import Iterable

from polestitch.chair.kinds import amounts_of
from polestitch.chair.sat import Sat, sat
from polestitch.costing import Pace, Sitting, pace
from polestitch.store import pieces
from polestitch.store.store import Store
from polestitch.studio.planning import PAGE, opened, step_seconds


def her_pace(store: Store) -> Pace:
    """Learned from every sitting of every piece, the oldest first; finished ones are put away, and are asked too."""
    found = [entry for piece in pieces.pieces(store, away=True) for entry in _sittings(store, piece.id)]
    return pace([sitting for _, sitting in sorted(found, key=lambda pair: pair[0])])


def _sittings(store: Store, piece: str) -> Iterable[tuple[str, Sitting]]:
    sats = sat(pieces.events(store, piece)[0])
    if not sats:
        return ()
    steps = _Steps(store, piece)
    return [(one.began, Sitting(piece, one.hours, steps.work(one))) for one in sats]


class _Steps:
    """Steps of a piece, page by page as they are asked for."""

    def __init__(self, store: Store, piece: str) -> None:
        self._store, self._piece = store, piece
        self._seconds = step_seconds(pieces.part(store, piece, "sizes") or b"")
        self._pages: dict[int, list[dict[str, object]]] = {}

    def work(self, one: Sat) -> dict[str, float]:
        """Amounts by kind; a step of an older plan that the new one has no more is left out."""
        known = [n for n in one.steps if n < len(self._seconds)]
        return amounts_of((self._page(n // PAGE)[n % PAGE], self._seconds[n]) for n in known)

    def _page(self, number: int) -> list[dict[str, object]]:
        if number not in self._pages:
            packed = pieces.part(self._store, self._piece, f"steps {number}") or b""
            self._pages[number] = json.loads(opened(packed))
        return self._pages[number]
