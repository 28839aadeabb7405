"""Published times of whole balls and of bases, and what the estimate says of such work.

Each was published by somebody who made or sold the thing, mostly without a pattern: ``ball`` is our reading of it, as
near as the words allow.  Novices and first attempts are taken at the pace of students, which was fitted to the simple
ball: that line checks nothing new, the others do.  ``python -m tests.reference.published_times`` prints the table.

Times that say nothing of what was made bear no figure and are named in ``UNDECIDED``.
"""

from collections.abc import Callable
from dataclasses import dataclass

from polestitch.estimate.hours import Hours, hours
from polestitch.teaching.document import PACE
from polestitch.teaching.minutes import Minutes
from polestitch.teaching.stages import stages, total
from polestitch.winding import parts_of, winding
from polestitch.workup import WorkUp, base_of, workup
from tests.builds import BAND, KIKU, built

UNDECIDED = {
    "a professional's balls: 12 to 120 h and more (http://www.originallythieman.com/Process.html)": "no ball is named",
    "regional craft pieces: weeks or months": "working days, not hours of work",
    "a Japanese maker: first two weeks, now three days": "working days, not hours of work",
}


@dataclass(frozen=True)
class Published:
    """A time in hours from ``least`` to ``most``; ``ours`` are the hours estimated of the same work."""

    name: str
    source: str
    least: float
    most: float
    ours: Callable[[], Minutes]  # in hours


def _hours(told: Hours) -> Minutes:
    return Minutes(told.low, told.likely, told.high)


def simple_ball() -> WorkUp:
    """A simple division with a flower at each pole and an obi: what a first ball is."""
    kiku = {**KIKU, "where": "N and S", "rows": "4 navy, 2 white, 1 navy"}
    return workup(built(kiku, {**BAND, "rows": "4 navy"}))


def all_over_squares() -> WorkUp:
    """Interlocking squares all over a C8, with what stands between them."""
    like = {"technique": "polygon", "combine": "layered", "start": "line 2"}
    squares = {**like, "where": "all centres", "rows": "14 navy", "params": {"corners": 4, "at": "1/2 from centre"}}
    three = {"corners": 3, "at": "1/4 from centre"}
    triangles = {"technique": "polygon", "where": "all triangles", "rows": "14 white", "params": three}
    return workup(built(squares, triangles, division="C8"))


def foam_base() -> Minutes:
    """A foam ball of 2 1/2 to 3 in, batting, yarn and thread, to a ball 25 cm round."""
    base = base_of(winding(250, parts_of("foam 215 mm, batting, thin yarn, sewing thread", "base")))
    work = {"core": (1.0, "ball"), "yarn": (base.yarn_m, "metres"), "wrap": (base.thread_m, "metres")}
    return _hours(hours(work))


def one_kiku_ready_marked() -> Minutes:
    """A pole's flower on a ball that comes marked, at the pace of students."""
    work = workup(built({**KIKU, "rows": "3 navy, 2 white"}))
    stitched = [stage for stage in stages(work, PACE) if stage.kind in ("layer", "finish")]
    return total(stitched).times(1 / 60)


def by_novice(work: WorkUp) -> Minutes:
    """A whole ball at the pace of students, finishing included."""
    return total(stages(work, PACE)).times(1 / 60)


PUBLISHED = (
    Published("winding a base", "http://mail.temari.com/tips.htm (an advertising claim)", 1 / 3, 1 / 3, foam_base),
    Published(
        "a simple ball, a novice, with its base",
        "http://gksagenda.blogspot.com/2011/12/my-one-handmade-gift.html",
        3,
        4,
        lambda: by_novice(simple_ball()),
    ),
    Published(
        "interlocking squares all over C8, a first attempt, with its base",
        "https://moviesandmeows.com/interlocking-square-temari/",
        12,
        12,
        lambda: by_novice(all_over_squares()),
    ),
    Published(
        "a class of 90 min on a prepared base",
        "https://realjapanexperience.com/en/blog/takamatsu-no8/",
        1.5,
        1.5,
        one_kiku_ready_marked,
    ),
    Published(
        "half of a course of 8 x 3 h for two balls, at most",
        "https://handicraftclub.org/, temari course page of 2024",
        0,
        12,
        lambda: by_novice(simple_ball()),
    ),
)

if __name__ == "__main__":
    for one in PUBLISHED:
        low, likely, high = one.ours()
        said = f"{one.least:.2g}" if one.least == one.most else f"{one.least:.2g} to {one.most:.2g}"
        print(f"{one.name:<66}{said:>8} h   ours {low:5.2f} {likely:5.2f} {high:5.2f}   {one.source}")
    for words, why in UNDECIDED.items():
        print(f"{words}: {why}")
