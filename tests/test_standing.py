"""Where a row stands on a ball, as evidence for the hand that stitched it."""

from typing import Any

import numpy as np
import pytest

from polestitch.document.design import Design
from polestitch.document.lengths import Length
from polestitch.errors import DesignError
from polestitch.fit import extent
from polestitch.hand import Evidence, learned, sampled
from polestitch.hand.hand import PUBLISHED
from polestitch.pipeline import Build, build
from polestitch.standing import row_stands, standing
from tests.builds import SQUARE, document

STAR = {"technique": "star", "where": "N", "rows": "until 6 mm from obi: 1 navy", "params": {"at": "1/3 from centre"}}
PEARL = [{"name": "navy", "colour": "#1d2b5a"}]


def design(layer: dict[str, Any] = SQUARE, division: str = "S10+obi") -> Design:
    return Design.model_validate(document(layer, division=division, threads=PEARL))


def stitched_by(factor: float, step: float, plan: Design) -> Build:
    """The plan by another maker: pitch over the gauge's, and her step at points, mm."""
    threads = tuple(thread.model_copy(update={"rows_per_cm": 14 / factor}) for thread in plan.threads)
    maker = plan.maker.model_copy(update={"stretch": Length(f"{step} mm")})
    return build(plan.model_copy(update={"threads": threads, "maker": maker}))


def tips_mm(made: Build, row: int) -> float:
    motif = made.motifs[0]
    return made.ball.mm(extent(motif.rows[row - 1], motif.site.kind))


@pytest.mark.parametrize("factor", [1.0, 1.2, 1.4])
def test_a_row_where_a_maker_would_have_it_wants_her_pitch(factor: float) -> None:
    square = design({**SQUARE, "rows": "12 navy"}, "S8")
    mm = tips_mm(stitched_by(factor, 2.3, square), 10)
    evidence = row_stands(square, "layer 1", 10, mm)
    assert evidence.wanted(factor, 2.3) == pytest.approx(evidence.mm)
    found = learned(PUBLISHED, [evidence]).pitch
    assert abs(np.log(found.middle / factor)) < 0.5 * max(0.05, abs(np.log(PUBLISHED.pitch.middle / factor)))
    assert found.scatter < 0.6 * PUBLISHED.pitch.scatter


def test_rows_of_a_star_and_of_a_square_tell_pitch_and_step_apart() -> None:
    star, square = design(STAR), design({**SQUARE, "rows": "12 navy"}, "S8")
    seen: list[Evidence] = []
    for plan, row in ((star, 5), (square, 10)):
        seen.append(row_stands(plan, "layer 1", row, tips_mm(stitched_by(1.35, 2.0, plan), row)))
    hand = learned(PUBLISHED, seen)
    assert hand.pitch.middle == pytest.approx(1.35, rel=0.06)


def test_a_table_with_a_row_gives_the_pitch_of_the_balls_threads() -> None:
    plan = design({**SQUARE, "rows": "12 navy"}, "S8")
    mm = tips_mm(stitched_by(1.3, 2.3, plan), 10)
    found = sampled(f"what,thread,rows,mm\nrow,layer 1,10,{mm:.1f}\n".encode(), "rows.csv", standing=standing(plan))
    assert found.measures.pitch["pearl 5"].length.mm == pytest.approx(10 / 14 * 1.28, rel=0.05)


@pytest.mark.parametrize(
    ("layer", "row", "mm", "what"),
    [
        ("none", 3, 20.0, "no layer of this design"),
        ("layer 1", 1, 20.0, "measure a later row"),
        ("layer 1", 3, 10.0, "not beyond the first row"),
    ],
)
def test_what_cannot_be_is_a_sentence(layer: str, row: int, mm: float, what: str) -> None:
    with pytest.raises(DesignError) as wrong:
        row_stands(design(SQUARE, "S8"), layer, row, mm, "rows.csv, line 2")
    assert what in wrong.value.what
    assert wrong.value.where == "rows.csv, line 2"


def test_a_row_without_a_design_is_refused() -> None:
    with pytest.raises(DesignError) as wrong:
        sampled(b"what,thread,rows,mm\nrow,layer 1,5,20\n", "rows.csv")
    assert "--for" in wrong.value.what
