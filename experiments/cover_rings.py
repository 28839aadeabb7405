"""Error and time of coverage by number of rings, over random rotations of three balls.

The truth is the mean over other rotations at 1,500 rings.  "stated" is the mean error the answer states,
"within" how often the truth lay inside it.  Run ``python -m experiments.cover_rings``.
"""

import time

import numpy as np
from scipy.spatial.transform import Rotation

from benchmarks.heavy_balls import ball_a, ball_b, turned
from polestitch.laying.cover import cover

for name, ball in (("A", ball_a()), ("B", ball_b()), ("light", ball_a(0.6, 3, 4))):
    turns = Rotation.random(26, random_state=np.random.default_rng(5)).as_matrix()
    truth = np.mean([cover(turned(ball, turn), 1500).share for turn in turns[:6]])
    for rings in (96, 160, 200, 240, 400, 800):
        started = time.perf_counter()
        found = [cover(turned(ball, turn), rings) for turn in turns[6:]]
        took = (time.perf_counter() - started) / len(found)
        off = np.array([c.share for c in found]) - truth
        stated = np.array([c.error for c in found])
        print(
            f"{name:5} {rings:4} rings {1e3 * took:6.1f} ms, points off: rms {100 * off.std():.4f}"
            f" worst {100 * np.abs(off).max():.4f}, stated {100 * stated.mean():.4f},"
            f" within {np.mean(np.abs(off) <= stated):.0%}, build-up {sorted({c.buildup_max for c in found})}"
        )
