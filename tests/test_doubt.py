"""Counts and amounts as ranges, against the same design stitched by other hands."""

import math
from typing import Any

import pytest

from polestitch.checks import Finding
from polestitch.document.lengths import Length
from polestitch.document.ranges import Range, Z
from polestitch.document.said import in_ten, near_range
from polestitch.doubt import Doubt, enough, rows_said, skeins_said, spread_of
from polestitch.hand.hand import PUBLISHED
from polestitch.pipeline import Build, build
from polestitch.workup import workup
from tests.builds import BAND, KIKU, SQUARE
from tests.builds import built as built_of

UNTIL = {**KIKU, "rows": "until 6 mm from obi: 1 navy"}
MEASURED = {
    "pitch": {"pearl 5": {"length": "0.9 mm", "spread": "0.05 mm"}},
    "step": {"length": "2.2 mm", "spread": "0.1 mm"},
}
PEARL = [{"name": "navy", "colour": "#1d2b5a"}, {"name": "white", "colour": "#f4f1ea"}]


def built(*layers: dict[str, Any], **rest: Any) -> Build:
    """As the other tests' balls, in size 5 that nobody counted."""
    return built_of(*layers, **{"threads": PEARL, **rest})


def doubt_of(made: Build) -> Doubt:
    return workup(made).doubt


def rows(made: Build) -> int:
    return max(row.plan + 1 for motif in made.motifs for row in motif.rows)


def test_counted_rows_are_sure_and_rows_until_a_place_are_not() -> None:
    sure, unsure = doubt_of(built(SQUARE)).rows[0], doubt_of(built(UNTIL)).rows[0]
    assert sure.low == sure.likely == sure.high == rows(built(SQUARE))
    assert unsure.low < unsure.high


@pytest.mark.parametrize("deviations", [-Z, Z])
def test_rows_of_a_hand_at_the_edge_lie_inside_the_range(deviations: float) -> None:
    # The hand's law of the pitch is taken from the document: 0.9 mm, one standard deviation 0.05 mm.
    made = built(UNTIL, maker={"measures": MEASURED})
    scatter = math.sqrt(math.log1p((0.05 / 0.9) ** 2))
    thread = made.design.threads[0].model_copy(update={"rows_per_cm": 10 / (0.9 * math.exp(scatter * deviations))})
    other = build(made.design.model_copy(update={"threads": (thread, *made.design.threads[1:])}))
    told = doubt_of(made).rows[0]
    assert told.low <= rows(other) <= told.high


def test_a_measured_hand_is_drawn_as_it_likely_stitches_and_known_more_narrowly() -> None:
    before, after = built(UNTIL), built(UNTIL, maker={"measures": MEASURED})
    told = doubt_of(after)
    assert told.rows[0].likely == rows(after)
    assert told.rows[0].high - told.rows[0].low <= doubt_of(before).rows[0].high - doubt_of(before).rows[0].low
    width = [(d.threads[0].total.high - d.threads[0].total.low) for d in (told, doubt_of(before))]
    assert width[0] < width[1]


def test_the_likely_amount_is_what_the_likeliest_hand_takes() -> None:
    # The quotient of straight sums stands for the whole estimate of another build: good to a few hundredths.
    made = built(UNTIL, BAND)
    rows_per_cm = 14 / PUBLISHED.pitch.middle
    threads = tuple(thread.model_copy(update={"rows_per_cm": rows_per_cm}) for thread in made.design.threads)
    maker = made.design.maker.model_copy(update={"stretch": Length(f"{PUBLISHED.step.middle} mm")})
    other = build(made.design.model_copy(update={"threads": threads, "maker": maker}))
    for told, amount in zip(doubt_of(made).threads, workup(other).estimate.threads, strict=True):
        assert told.total.likely == pytest.approx(amount.total_mm, rel=0.06)


def test_marking_thread_is_in_the_amount_and_no_hand_changes_it() -> None:
    bare, marked = (built(SQUARE, marking={"division": "S8", "thread": name}) for name in ("white", "navy"))
    mm = workup(marked).estimate.marking_mm
    assert mm > 1000
    without, together = doubt_of(bare).threads[0].total, doubt_of(marked).threads[0].total
    for end in ("low", "likely", "high"):
        assert getattr(together, end) == pytest.approx(getattr(without, end) + mm)
    only = doubt_of(bare).threads[1].total
    assert only.low == only.high == pytest.approx(mm)


def test_respects_that_do_not_depend_on_each_other_add_as_sides_of_right_angles() -> None:
    told = spread_of(10.0, [[-3.0, 3.0], [4.0]])
    assert (told.low, told.likely, told.high) == pytest.approx((7.0, 10.0, 15.0))


def test_odds_are_those_of_the_law_the_range_stands_for() -> None:
    need = Range(18.0, 22.0, 30.0)
    assert enough(need, 18.0) == pytest.approx(0.1)
    assert enough(need, 22.0) == pytest.approx(0.5)
    assert enough(need, 30.0) == pytest.approx(0.9)
    assert enough(need, 25.0) > enough(need, 24.0)


def test_skeins_to_take_are_enough_for_nine_in_ten_and_fewer_come_with_their_odds() -> None:
    made = built(UNTIL)
    need = doubt_of(made).threads[0].total
    skein = need.high / 1.5 / 1000
    threads = [{**thread, "skein": f"{skein:.6f} m"} for thread in _threads(made)]
    found = doubt_of(built(UNTIL, threads=threads)).threads[0].skeins
    assert found is not None
    assert found.take == found.range.high == 2
    assert found.odds[1] >= 0.9
    assert found.odds[0] == pytest.approx(enough(need, skein * 1000), abs=0.002)
    assert skeins_said(found).startswith("take 2 skeins")


def test_thread_that_is_enough_for_some_hands_only_is_a_matter_to_decide_and_says_for_how_many() -> None:
    made = built(UNTIL)
    need, drawn = doubt_of(made).threads[0].total, workup(made).estimate.threads[0].total_mm
    tight, plenty = (need.high + max(drawn, need.likely)) / 2, need.high + 1

    def found(have: float) -> list[Finding]:
        threads = [{**PEARL[0], "have": f"{have:.3f} mm"}, PEARL[1]]
        return [one for one in workup(built(UNTIL, threads=threads)).findings if one.kind == "thread short"]

    (finding,) = found(tight)
    assert finding.severity == "care"
    assert f"enough for {in_ten(enough(need, tight))}" in finding.sentence
    assert not found(plenty)
    assert [one.severity for one in found(drawn - 100)] == ["stop"]


@pytest.mark.parametrize(
    ("drawn", "told", "measured", "words"),
    [
        (8, Range(8, 8, 8), False, "8 rows"),
        (8, Range(7, 8, 9), True, "8 rows (7 to 9 by your hand)"),
        (1, Range(1, 1, 2), False, "1 row (1 to 2 by most hands)"),
        (11, Range(8, 9, 11), False, "11 rows as drawn, with thread packed close; 9 by most hands (8 to 11)"),
    ],
)
def test_rows_are_told_with_their_doubt(drawn: int, told: Range, measured: bool, words: str) -> None:
    assert rows_said(drawn, told, measured) == words


def test_a_hand_too_wide_for_a_single_row_leaves_the_drawn_figures() -> None:
    # At the gauge's width one row fits before the edge, at the likeliest hand's none does.
    layer = {
        **SQUARE,
        "where": "all centres",
        "rows": "until neighbours: 1 navy",
        "params": {"corners": 4, "at": "30.7 mm"},
    }
    made = built(layer, division="C8")
    assert rows(made) == 1
    told = doubt_of(made)
    assert told.rows[0] == Range(1, 1, 1)
    assert told.threads[0].total.likely == pytest.approx(workup(made).estimate.threads[0].total_mm)


def _threads(made: Build) -> list[dict[str, Any]]:
    return [{"name": thread.name, "colour": str(thread.colour), "size": thread.size} for thread in made.design.threads]


@pytest.mark.parametrize(
    ("share", "words"),
    [
        (0.01, "fewer than one in twenty"), (0.08, "one in ten"), (0.31, "three in ten"), (0.39, "three in ten"),
        (0.95, "nine in ten"), (0.97, "nearly all"),
    ],
)  # fmt: skip
def test_odds_are_told_in_tenths_and_never_better_than_they_are(share: float, words: str) -> None:
    assert in_ten(share) == words


def test_a_length_in_doubt_is_told_with_its_unit_once() -> None:
    assert near_range(Range(20_000, 22_000, 25_040)) == "22 m (20 to 25)"
    assert near_range(Range(900, 1_200, 1_500)) == "1.2 m (900 mm to 1.5)"
    assert near_range(Range(5, 5, 5)) == "5 mm"
    assert near_range(Range(9_144, 9_144 * 2, 9_144 * 3), "in") == "20.0 yd (10.0 to 30.0)"
