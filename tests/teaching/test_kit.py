"""Kits and cut thread: never too little, and never fewer of anything for more students or a larger ball."""

from itertools import pairwise
from math import ceil

import pytest
from hypothesis import given
from hypothesis import strategies as st

from polestitch.estimate.amounts import skein_mm
from polestitch.teaching.cutting import all_pieces, bundle, skeins_of
from polestitch.teaching.document import ClassSpec
from polestitch.teaching.kit import KitLine, kit
from tests.teaching.balls import ball, demo, spec

SKEIN = 25 * 914.4
SIZES = (220.0, 230.0, 240.0, 250.0, 262.0, 275.0)


def listed(planned: ClassSpec, around_mm: float) -> dict[str, KitLine]:
    works = [ball(around_mm)] * planned.students
    bundles = [bundle(work, planned.cut_spare) for work in works]
    return {line.what: line for line in kit(planned, works, bundles)}


def never_fewer(less: dict[str, KitLine], more: dict[str, KitLine]) -> None:
    assert set(less) <= set(more)
    for what, line in less.items():
        assert (line.count or 0) <= (more[what].count or 0), what


@given(st.integers(1, 30), st.integers(0, 30), st.sampled_from(["0", "3", "10 %", "25 %"]))
def test_more_students_never_need_less(students: int, others: int, spares: str) -> None:
    less = spec(students=students, spares=spares, named=[], left_handed=0)
    more = spec(students=students + others, spares=spares, named=[], left_handed=0)
    never_fewer(listed(less, 250.0), listed(more, 250.0))


@pytest.mark.slow
def test_a_larger_ball_never_needs_less() -> None:
    for less, more in pairwise(SIZES):
        never_fewer(listed(spec(named=[]), less), listed(spec(named=[]), more))
        for one, other in zip(bundle(ball(less), 10).threads, bundle(ball(more), 10).threads):
            assert one.mm <= other.mm, (less, one.name)


def test_spares_are_whole_kits_of_the_largest_ball() -> None:
    lesson = demo()
    assert (lesson.spec.spare_kits, spec(spares="3").spare_kits, spec(spares="0").spare_kits) == (1, 3, 0)
    assert spec(students=20, spares="10 %", named=[]).spare_kits == 2
    cream = next(line for line in lesson.kit if line.what == "cream, pearl 5")
    largest = max(lesson.bundles, key=lambda one: one.around_mm)
    pieces = [*all_pieces(lesson.bundles, 0), *all_pieces([largest], 0)]
    assert cream.amount == f"{sum(pieces) / 1000:.1f} m in {len(pieces)} pieces"
    assert next(line for line in lesson.kit if line.what == "Needles").count == 9


@pytest.mark.parametrize("around_mm", SIZES[:3])
def test_every_bundle_holds_what_the_estimate_asks_for(around_mm: float) -> None:
    work = ball(around_mm)
    cut = {one.name: one for one in bundle(work, 0).threads}
    for amount in work.estimate.threads:
        assert cut[amount.name].mm >= amount.total_mm
        planned = len(amount.pieces) + (len(work.way.pieces) if cut[amount.name].marking else 0)
        assert len(cut[amount.name].pieces) == planned
        assert all(mm % 50 == 0 for mm in cut[amount.name].pieces)


def test_skeins_are_counted_in_pieces_not_in_metres() -> None:
    # A skein of 25 yd is 22.86 m: seven pieces of 3.05 m come from it, and 1.51 m are left.
    assert skeins_of([3050.0] * 7, SKEIN) == 1
    assert skeins_of([3050.0] * 8, SKEIN) == 2
    assert skeins_of([50_000.0], SKEIN) == 3
    assert skeins_of([3050.0], None) is None
    assert skein_mm(ball().build.design.threads[0]) == pytest.approx(SKEIN)


@given(st.lists(st.integers(100, 40_000), max_size=40), st.integers(100, 40_000))
def test_one_more_piece_never_takes_fewer_skeins(pieces: list[int], other: int) -> None:
    # Next fit in falling order is monotone (Murgolo, Anomalous behavior in bin packing algorithms, 1988; from memory).
    less, more = skeins_of(pieces, SKEIN), skeins_of([*pieces, other], SKEIN)
    assert less is not None
    assert more is not None
    assert less <= more
    assert more * SKEIN >= sum(pieces) + other
    assert more >= ceil((sum(pieces) + other) / SKEIN)
