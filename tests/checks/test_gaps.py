"""What a design leaves free: each gap as geometry has it, and none where motifs cross."""

import numpy as np
import pytest

from polestitch.checks.gaps import gaps
from tests.builds import KIKU, SQUARE, built


def test_two_stars_face_each_other_over_the_obi() -> None:
    made = built({**KIKU, "where": ["N", "S"]})
    (gap,) = gaps(made)
    tips = [float(np.abs(np.arcsin(np.clip(motif.rows[-1].places[:, 2], -1, 1))).min()) for motif in made.motifs]
    # Tips of both stars stand on the same lines: from tip to tip over the obi, less half a thread on either side.
    free = made.ball.mm(sum(tips)) - made.ball.mm(made.motifs[0].rows[-1].pitch)
    assert gap.mm == pytest.approx(free, abs=0.3)
    assert gap.place == "between N and S"


def test_what_runs_until_a_place_leaves_what_it_says_or_more() -> None:
    made = built({**SQUARE, "rows": "until 6 mm from obi: 1 navy"})
    (gap,) = gaps(made)
    assert gap.place == "before what it runs until"
    assert gap.mm >= 6 - 1e-6


def test_one_motif_alone_meets_nothing() -> None:
    assert gaps(built(SQUARE)) == ()
