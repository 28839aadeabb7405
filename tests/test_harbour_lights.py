"""The demonstration show: each ball can be made as it stands, and each record tells of the ball it names."""

from functools import cache
from itertools import pairwise
from math import pi
from pathlib import Path

import pytest

from polestitch.document.codec import read
from polestitch.document.design import Design
from polestitch.document.lengths import Length
from polestitch.picture.subject import facing
from polestitch.pipeline import build
from polestitch.showing.exhibition import Exhibition, Shown
from polestitch.showing.record import PieceRecord
from polestitch.workup import workup

EXAMPLES = Path(__file__).parents[1] / "examples"
FOLDER = EXAMPLES / "harbour-lights"
BALLS = sorted((FOLDER / "balls").glob("*.json"))
SHOW = Exhibition.model_validate_json((FOLDER / "show.json").read_bytes())
RECORDS = {record.number: record for record in SHOW.records}
# How the records write a division.
DIVISIONS = {
    "Simple 10": "S10",
    "Simple 12 with obi": "S12+obi",
    "Simple 16 with obi": "S16+obi",
    "Combination 8": "C8",
    "Combination 8, fourteen faces": "C8/14",
    "Combination 10": "C10",
}
# Grams a cubic centimetre of two published balls: one 10 cm through weighs 85 g
# (kimonoboy.com/zakka/popup_folder/temari-403.html), one 8 cm through 80 g
# (temari-cat.blogspot.com/2009/08/temari-of-this-week-is-yabane.html).
LIGHTEST, HEAVIEST = 85 / (pi / 6 * 10**3), 80 / (pi / 6 * 8**3)

record_of_the_show = pytest.mark.parametrize("record", SHOW.records, ids=lambda record: record.number)


@cache
def design_of(record: PieceRecord) -> Design:
    return read((FOLDER / str(record.design)).read_text(encoding="utf-8"))


def mm(length: Length | None) -> float:
    assert length is not None
    assert length.mm is not None
    return length.mm


def test_the_show_has_at_least_nine_balls_those_of_the_shelf_among_them() -> None:
    assert len(BALLS) >= 9
    for path in EXAMPLES.glob("*.json"):
        assert (FOLDER / "balls" / path.name).read_bytes() == path.read_bytes()


def test_each_ball_of_the_show_has_a_record_and_a_place() -> None:
    assert sorted(str(record.design) for record in SHOW.records) == [f"balls/{path.name}" for path in BALLS]
    assert [shown.number for shown in SHOW.shown if not shown.case] == []
    assert [shown.number for shown in SHOW.shown] == list(RECORDS)


@pytest.mark.slow
@pytest.mark.parametrize("path", BALLS, ids=lambda path: path.stem)
def test_nothing_stands_in_the_way_of_a_ball_of_the_show(path: Path) -> None:
    (record,) = (record for record in SHOW.records if record.design == f"balls/{path.name}")
    built = build(read(path.read_text(encoding="utf-8")))
    known = workup(built)
    assert [finding.sentence for finding in known.findings if finding.severity != "note"] == []
    assert all(thread.total_mm > 0 for thread in known.estimate.threads)
    hours = known.estimate.hours
    assert record.hours is not None
    assert hours.low < record.hours < hours.high
    (shown,) = (shown for shown in SHOW.shown if shown.number == record.number)
    facing(built, shown.facing or "N")


def test_the_balls_differ_in_division_and_stitch() -> None:
    designs = [design_of(record) for record in SHOW.records]
    assert len({design.marking.division for design in designs}) >= 6
    assert len({layer.technique for design in designs for layer in design.layers}) >= 7
    assert min(mm(design.ball.around) for design in designs) <= 200
    assert max(mm(design.ball.around) for design in designs) >= 340


@record_of_the_show
def test_a_record_agrees_with_its_design(record: PieceRecord) -> None:
    design = design_of(record)
    assert record.title.casefold() == design.name.casefold()
    assert mm(record.around) == pytest.approx(mm(design.ball.around), rel=0.01)
    assert DIVISIONS[record.division] == design.marking.division
    removed = {design.marking.thread} if design.marking.removed else set()
    told = " ".join(thread.colour for thread in record.threads)
    assert [thread.name for thread in design.threads if thread.name not in told] == sorted(map(str, removed))
    metallic = [thread for thread in record.threads if "metallic" in thread.name]
    assert bool(metallic) == any(thread.metallic for thread in design.threads)


@record_of_the_show
def test_a_ball_weighs_what_published_balls_of_its_size_do(record: PieceRecord) -> None:
    volume = pi / 6 * (mm(record.around) / 10 / pi) ** 3
    assert record.weight_g is not None
    assert LIGHTEST <= record.weight_g / volume <= HEAVIEST


def test_the_pieces_are_made_one_after_another_and_before_they_are_brought() -> None:
    dates = [day for record in SHOW.records for day in (record.begun, record.finished) if day is not None]
    assert len(dates) == 2 * len(SHOW.records)
    assert dates == sorted(dates)
    assert SHOW.delivery is not None
    assert dates[-1] < SHOW.delivery


def test_every_ball_has_room_in_its_case() -> None:
    cases = {case.name: case for case in SHOW.cases}
    shelves: dict[tuple[str, int], list[Shown]] = {}
    for shown in SHOW.shown:
        shelves.setdefault((shown.case, shown.shelf), []).append(shown)
    for (name, number), stand in shelves.items():
        case = cases[name]
        assert all(mm(shown.stand) + 2 * half(shown) < mm(case.shelves[number - 1].clear) for shown in stand)
        edges = [0.0, *(edge for shown in sorted(stand, key=middle) for edge in sides(shown)), mm(case.width)]
        assert all(left < right for left, right in pairwise(edges))


def half(shown: Shown) -> float:
    return mm(RECORDS[shown.number].around) / (2 * pi)


def middle(shown: Shown) -> float:
    return mm(shown.at)


def sides(shown: Shown) -> tuple[float, float]:
    return middle(shown) - half(shown), middle(shown) + half(shown)


def test_the_foreword_fits_a_page_of_the_catalogue() -> None:
    assert 220 <= len(SHOW.foreword.split()) <= 300


@record_of_the_show
def test_the_plain_words_are_plain(record: PieceRecord) -> None:
    sentences = [sentence.split() for sentence in record.plain.split(".") if sentence.strip()]
    # 15 words a sentence at most: common practice, no source.
    assert max(map(len, sentences)) <= 15
    assert record.text
    assert record.care
    assert record.condition
    assert record.provenance
