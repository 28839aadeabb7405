"""Speed of the crossing search as ratios in one run: against all pairs in numpy, and shapely's STRtree.

Run ``python -m benchmarks.crossings`` with one thread (OMP_NUM_THREADS=1 OPENBLAS_NUM_THREADS=1).
"""

import statistics
import time
from collections.abc import Callable

import numpy as np

from benchmarks.balls import ball_a, ball_a20k, ball_b
from benchmarks.crossings_all_pairs import all_pairs
from benchmarks.crossings_strtree import by_tree
from polestitch.document.design import Design
from polestitch.laying.crossings import crossings
from polestitch.laying.laid import Laid
from polestitch.pipeline import build

PIECES = np.radians([4, 8, 16, 32])  # the tree is given the piece length that suits it best


def heavy() -> list[tuple[str, Laid, float, int]]:
    """Name, ball, wanted ratio and number of runs."""
    return [
        ("A", laid_of(ball_a()), 4.0, 9),
        ("B", laid_of(ball_b()), 1.0, 15),
        ("A20k", laid_of(ball_a20k()), 10.0, 3),
    ]


def laid_of(design: Design) -> Laid:
    """The ball a design document makes, through the public pipeline."""
    return build(design).laid


def seconds(times: int, *works: Callable[[], object]) -> list[float]:
    """Median processor time of each work, run in turn ``times`` times: a shared machine slows all alike."""
    taken: list[list[float]] = [[] for _ in works]
    for _ in range(times):
        for work, mine in zip(works, taken):
            started = time.process_time()
            work()
            mine.append(time.process_time() - started)
    return [statistics.median(mine) for mine in taken]


def fresh(laid: Laid) -> Laid:
    """The same ball with nothing remembered."""
    return Laid(**{name: getattr(laid, name) for name in Laid.__dataclass_fields__})


def rows() -> list[tuple[str, float, float]]:
    """(goal, measured ratio, wanted ratio): how many times faster ours is."""
    found = []
    for name, laid, aim, times in heavy():
        met = len(crossings(laid))
        assert met == len(all_pairs(laid)[0]), "the two searches disagree"
        ours, plain = seconds(times, lambda laid=laid: crossings(fresh(laid)), lambda laid=laid: all_pairs(fresh(laid)))
        found.append((f"crossings {name} against all pairs", plain / ours, aim))
        print(f"{name}: {len(laid.offset)} arcs, {met} crossings, {1e3 * ours:.1f} ms, all pairs {1e3 * plain:.0f} ms")
    found.append(("crossings A against shapely STRtree", _ratio_to_tree(laid_of(ball_a())), 2.0))
    return found


def _ratio_to_tree(laid: Laid) -> float:
    assert len(by_tree(laid, PIECES[1])) == len(crossings(laid)), "the tree disagrees"
    trees = [lambda cut=cut: by_tree(fresh(laid), cut) for cut in PIECES]
    ours, *theirs = seconds(9, lambda: crossings(fresh(laid)), *trees)
    print("   STRtree by piece length: " + ", ".join(f"{1e3 * t:.0f} ms" for t in theirs))
    return min(theirs) / ours


if __name__ == "__main__":
    for goal, ratio, aim in rows():
        print(f"{goal:42} {ratio:6.1f}x  (aim {aim:g}x)")
