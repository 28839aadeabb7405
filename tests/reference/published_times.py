"""Published times of whole balls and of bases, and what the estimate says of such work.

Each was published by somebody who made or sold the thing, mostly without a pattern: ``ball`` is our reading of it, as
near as the words allow.  Novices and first attempts are taken at the pace of students, which was fitted to the simple
ball: that line checks nothing new, the others do.  ``python -m tests.reference.published_times`` prints the table.

Times that say nothing of what was made bear no figure and are named in ``UNDECIDED``.
"""

from collections.abc import Callable
from dataclasses import dataclass
from math import inf

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
    "a workshop's first ball: 11 h (https://forum.lettucecraft.com/t/my-first-temari-ball-embroidery-project/3282)": (
        "no pattern, size or base is named"
    ),
    "a ball in 20 min (https://wiki.zutto.fi/content/wikihow_en_maxi_2023-03/Make-a-Temari-Ball)": "no pattern named",
    "one of a class finished hers from scratch in a day (https://mythweaver2025.dreamwidth.org/781.html)": (
        "neither the hours of the day nor the ball's size are named"
    ),
}


@dataclass(frozen=True)
class Published:
    """A time in hours from ``least`` to ``most``; ``ours`` are the hours estimated of the same work.

    ``least`` 0: it takes no more than ``most``; ``most`` infinite: it takes more than ``least``.
    """

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


def ten_small_bases() -> Minutes:
    """Thread over ten yarn balls up to 12 cm round, of which the maker wound two from wadding herself; her first."""
    base = base_of(winding(120, parts_of("wadding, thin yarn, sewing thread", "base")))
    work = {"core": (2.0, "balls"), "yarn": (2 * base.yarn_m, "metres"), "wrap": (10 * base.thread_m, "metres")}
    return _hours(hours(work)).times(PACE)


def hulls_and_thread() -> Minutes:
    """A ball 25 cm round of hulls and thread alone, by a novice."""
    base = base_of(winding(250, parts_of("hulls, sewing thread", "base")))
    return _hours(hours({"core": (1.0, "ball"), "wrap": (base.thread_m, "metres")})).times(PACE)


def kiku_ready_marked(where: str) -> Minutes:
    """A flower at one pole or both on a ball that comes marked, at the pace of students."""
    work = workup(built({**KIKU, "where": where, "rows": "3 navy, 2 white"}))
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
        lambda: kiku_ready_marked("N"),
    ),
    Published(
        "a kiku ball in the last 2 h of a beginners' class",
        "http://temari-addict-australia.blogspot.com/2010/06/temari-addicts-by-dozen.html",
        2,
        2,
        lambda: kiku_ready_marked("N and S"),
    ),
    Published(
        "thread over ten small bases, two of them from wadding",
        "https://blog.goo.ne.jp/tukinosizukukirakira/d/20140616",
        2,
        2,
        ten_small_bases,
    ),
    Published(
        "thread over hulls, novices, not round yet after 2 h of class",
        "http://temariyuanan.com/, notes of a class of 32",
        2,
        inf,
        hulls_and_thread,
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
        said = f"{one.least:.2g} or more" if one.most == inf else said
        print(f"{one.name:<66}{said:>9} h   ours {low:5.2f} {likely:5.2f} {high:5.2f}   {one.source}")
    for words, why in UNDECIDED.items():
        print(f"{words}: {why}")
