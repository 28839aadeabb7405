"""Time to find candidate pairs by size of the smallest bundle, pairs tried at a time and longest piece.

Run ``python -m experiments.bundle_sizes`` with one thread.  Processor time, median of 15.
"""

import statistics
import time

import numpy as np

from benchmarks.heavy_balls import ball_a, ball_a20k, ball_b
from polestitch.laying import bundles

for name, laid in (("A", ball_a()), ("B", ball_b()), ("A20k", ball_a20k())):
    bundles.candidates(laid)
    for setting in (
        (12, 256, 60),
        (8, 256, 60),
        (20, 256, 60),
        (40, 256, 60),
        (12, 32, 60),
        (12, 1024, 60),
        (12, 256, 30),
        (12, 256, 90),
    ):
        bundles.BUNDLE, bundles.BATCH, bundles.LONGEST = setting[0], setting[1], np.radians(setting[2])
        taken = []
        for _ in range(15):
            started = time.process_time()
            found = bundles.candidates(laid)
            taken.append(time.process_time() - started)
        took = 1e3 * statistics.median(taken)
        size, batch, degrees = setting
        print(f"{name:5} bundle {size:3} batch {batch:5} piece {degrees:3} deg: {took:6.1f} ms, {len(found[0])} pairs")
