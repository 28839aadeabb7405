"""What a sampler's table says of a hand, by closed forms."""

import math

import pytest

from polestitch.document.design import Maker, Thread
from polestitch.document.lengths import Length
from polestitch.document.ranges import Z
from polestitch.document.threads import pitch_mm
from polestitch.errors import DesignError
from polestitch.hand import Known, hand_json, hand_of, measures_of, pitch_of, sampled
from polestitch.hand.hand import PIECE_SCATTER, PUBLISHED, known_of
from polestitch.hand.learning import averaged, reading_of
from polestitch.hand.sampler import ERROR_MM

HEAD = "what,thread,rows,mm\n"
GAUGE = 10 / 14


def table(*lines: str) -> bytes:
    return (HEAD + "\n".join(lines)).encode()


def test_a_square_alone_is_two_normal_laws_of_the_logarithm_multiplied() -> None:
    # Conjugate normal, any textbook: precisions add, means are weighed by them.
    found = sampled(table("square,pearl 5,3,2.6"), "mine.csv").hand.pitch
    prior = PUBLISHED.pitch.scatter**2 - PIECE_SCATTER**2
    error = (ERROR_MM / 2.6) ** 2 + PIECE_SCATTER**2
    measured = math.log(2.6 / 2 / math.sqrt(2) / GAUGE)
    precision = 1 / prior + 1 / error
    mean = (math.log(PUBLISHED.pitch.middle) / prior + measured / error) / precision
    assert found.middle == pytest.approx(math.exp(mean))
    assert found.scatter == pytest.approx(math.hypot(precision**-0.5, PIECE_SCATTER))


def test_a_sampler_as_published_work_goes_keeps_the_middle_and_narrows_the_range() -> None:
    step = 2 * math.sqrt(2) * GAUGE * PUBLISHED.pitch.middle
    point = 2 * PUBLISHED.step.middle
    found = sampled(table(f"square,pearl 5,3,{step}", f"point,pearl 5,3,{point}"), "mine.csv").hand
    assert found.pitch.middle == pytest.approx(PUBLISHED.pitch.middle)
    assert found.step.middle == pytest.approx(PUBLISHED.step.middle)
    assert found.pitch.scatter < PUBLISHED.pitch.scatter
    assert found.step.scatter < PUBLISHED.step.scatter


@pytest.mark.parametrize(
    "content",
    [
        b"what;thread;rows;mm\nsquare;pearl 5;3;2,6\n",
        "what\tthread\trows\tmm\nSquare\tpearl 5\t3\t2.6 mm\n".encode("utf-16"),
        b"rows,mm,what,thread\n3,2.6,square,pearl 5\n3,,point,pearl 5\n",
    ],
)
def test_any_spreadsheets_habit_reads_the_same(content: bytes) -> None:
    assert sampled(content, "mine.csv").hand == sampled(table("square,pearl 5,3,2.6"), "mine.csv").hand


@pytest.mark.parametrize(
    ("content", "where", "what"),
    [
        (b"", "mine.csv", "is empty"),
        (b"what,thread,mm\n", "mine.csv, line 1", 'no column called "rows"'),
        (table("square,pearl 5,3,"), "mine.csv", "nothing measured"),
        (table("circle,pearl 5,3,2"), "mine.csv, line 2", "nothing a sampler has"),
        (table("square,pearl 5,1,2"), "mine.csv, line 2", "no count of rows"),
        (table("square,,3,2"), "mine.csv, line 2", "names no thread"),
        (table("square,pearl 5,3,-2"), "mine.csv, line 2", "no length"),
        (table("square,pearl 5,3,nan"), "mine.csv, line 2", "no length"),
        (table("square,string,3,2"), "mine.csv", "no size with a published width"),
    ],
)
def test_what_cannot_be_read_is_one_sentence_with_its_line(content: bytes, where: str, what: str) -> None:
    with pytest.raises(DesignError) as wrong:
        sampled(content, "mine.csv")
    assert wrong.value.where == where
    assert what in wrong.value.what


def test_what_comes_out_goes_into_a_design_and_is_what_the_ball_is_drawn_with() -> None:
    found = sampled(table("square,pearl 5,3,2.9", "point,pearl 5,3,5", "bite,,,1.2", "dip,,,1.5"), "mine.csv")
    maker = Maker(measures=found.measures)
    thread = Thread.model_validate({"name": "navy", "colour": "#1d2b5a", "size": "Pearl cotton 5"})
    told = hand_json(found)["pitch_mm"]["pearl 5"]["now"]
    assert pitch_mm(thread, measures=maker.measures).mm == pytest.approx(told["likely"], abs=0.005)
    assert pitch_of(thread, maker).range.low == pytest.approx(told["low"], abs=0.01)
    assert maker.own_step == found.measures.step.length if found.measures.step else False
    assert hand_of(maker).step.middle == pytest.approx(found.hand.step.middle, abs=0.005)
    assert maker.own_bite != maker.bite
    assert maker.own_dip != maker.dip


def test_a_threads_own_name_comes_before_its_size() -> None:
    measures = measures_of(PUBLISHED, {"pearl 5": 1.0, "navy": 2.0}, frozenset())
    thread = Thread.model_validate({"name": "navy", "colour": "#1d2b5a"})
    assert pitch_mm(thread, measures=measures).mm == pytest.approx(2 * PUBLISHED.pitch.middle, abs=0.005)


def test_a_reading_keeps_the_doubt_of_the_law_it_was_made_of() -> None:
    # Log-normal: standard deviation = middle sqrt(exp(s^2) - 1), taken about the middle.
    again = known_of(reading_of(Known(2.3, 0.155)))
    assert again.middle == pytest.approx(2.3)
    assert again.scatter == pytest.approx(0.155, abs=0.003)


def test_the_range_holds_four_fifths_of_the_law() -> None:
    # Phi(1.2816) - Phi(-1.2816) = 0.8, by any table of the normal law.
    assert math.erf(Z / math.sqrt(2)) == pytest.approx(0.8, abs=1e-12)


def test_a_stretch_she_set_herself_is_hers() -> None:
    assert hand_of(Maker(stretch=Length("3 mm"))).step.middle == pytest.approx(3.0)
    assert hand_of(Maker()).step == PUBLISHED.step


def test_readings_of_a_bite_are_averaged_with_what_was_known() -> None:
    more = averaged(PUBLISHED.bite, [1.2] * 50, ERROR_MM)
    assert more.middle == pytest.approx(1.2, rel=0.03)
    assert PIECE_SCATTER < more.scatter < PUBLISHED.bite.scatter
