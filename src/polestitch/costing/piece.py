"""A ball that was worked out, as a piece to be priced.

In: ``WorkUp``; her pace.  Out: ``Piece``.
"""

from polestitch.costing.pace import Pace, hours_ahead
from polestitch.costing.price import Piece
from polestitch.costing.sitting import work_in
from polestitch.costing.threads import ThreadNeed
from polestitch.estimate.amounts import skein_mm
from polestitch.workup import WorkUp


def piece_of(work: WorkUp, known: Pace) -> Piece:
    """Name, size, hours by ``known`` and thread of the whole ball."""
    design, amounts = work.build.design, work.estimate
    threads = tuple(
        ThreadNeed(thread.name, str(thread.colour), amount.total_mm, skein_mm(thread))
        for thread, amount in zip(design.threads, amounts.threads, strict=True)
    )
    return Piece(design.name, work.build.ball.around_mm, hours_ahead(known, work_in(amounts.hours)), threads)
