"""What a design knows of the piece made from it: the beginning of a record, and nothing it does not know.

In: a worked-out build, a number and a title.  Out: a ``PieceRecord``.  The finished ball's size and weight are left
out, since she measures them; the hours are the estimate, and are marked as one.
"""

from polestitch.showing.record import PieceRecord, ThreadUsed
from polestitch.workup import WorkUp


def proposed(worked: WorkUp, number: str, title: str = "", design: str | None = None) -> PieceRecord:
    """Division, threads with thread on the ball, and hours to the next half; ``design`` is its file or id."""
    made = worked.build.design
    used = {amount.name for amount in worked.estimate.threads if amount.total_mm > 0}
    threads = [thread for thread in made.threads if thread.name in used]
    return PieceRecord(
        number=number,
        title=title or made.name,
        design=design,
        division=worked.build.marking.division,
        threads=tuple(ThreadUsed(name=one.size, fibre=one.fibre, colour=one.name) for one in threads),
        hours=max(0.5, round(2 * worked.estimate.hours.likely) / 2),
        hours_estimated=True,
    )
