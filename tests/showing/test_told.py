"""What a show says: sums, light, remarks."""

from pathlib import Path
from typing import Any

import pytest

from polestitch.document.money import Money
from polestitch.showing.codec import read_show, written_show
from polestitch.showing.light import dose
from polestitch.showing.pieces import sums
from polestitch.showing.proposed import proposed
from polestitch.showing.remarks import remarks
from polestitch.showing.told import kept, show_json
from polestitch.workup import workup
from tests.builds import BAND, KIKU, built
from tests.showing.harbour import BALLS, record, show

EXAMPLES = Path(__file__).parents[2] / "examples"


def test_lux_hours_count_both_days() -> None:
    # 5 December to 6 January: 27 days of December and 6 of January.
    total = dose(show())
    assert total is not None
    assert total.days == 33
    assert total.lux_hours == 50 * 6 * 33
    # ERCO's own example: 50 lx over 10 h do what 250 lx over 2 h do.
    day = {"opens": "2026-12-05", "closes": "2026-12-05"}
    slow, fast = dose(show(**day, lux=50, hours_a_day=10)), dose(show(**day, lux=250, hours_a_day=2))
    assert slow is not None
    assert fast is not None
    assert slow.lux_hours == fast.lux_hours
    assert dose(show(lux=None)) is None


def test_two_currencies_are_never_added() -> None:
    amounts = [Money("10 EUR"), None, Money("5 GBP"), Money("2.50 EUR")]
    assert [str(total) for total in sums(amounts)] == ["12.50 EUR", "5 GBP"]
    assert [str(one) for one in kept(sums(amounts), 33.3)] == ["8.34 EUR", "3.34 GBP"]  # 8.3375 and 3.335, half up


def test_the_harbour_show_has_nothing_to_look_at() -> None:
    assert remarks(show()) == []
    told = show_json(show())
    assert told["prices"] == ["2450 EUR"]
    assert told["after_commission"] == ["1960 EUR"]
    assert told["insured"] == ["2950 EUR"]
    assert len(told["pieces"]) == len(BALLS)


def test_the_example_reads_back_and_has_nothing_to_look_at() -> None:
    example = read_show((EXAMPLES / "harbour-lights" / "show.json").read_bytes())
    assert remarks(example) == []
    assert read_show(written_show(example)) == example


REMARKS: list[tuple[dict[str, Any], str]] = [
    ({"delivery": "2026-12-24"}, "delivered after the show opens"),
    ({"collection": "2026-12-30"}, "collected before the show closes"),
    ({"lux": 200}, "200 lux are on the pieces; for textiles 50 lux"),
    (
        {"labels": {"prices": True}, "records": [{**record(k), "price": None} for k in range(10)]},
        "these have none: HL-01",
    ),
    ({"labels": {"words": "plain"}, "records": [{**record(k), "plain": ""} for k in range(10)]}, "plain language"),
    (
        {"records": [{**record(k), "price": f"1 {'EUR' if k else 'GBP'}"} for k in range(10)]},
        "Prices are in EUR and GBP",
    ),
    ({"records": [{**record(k), "insured": None if k else "1 EUR"} for k in range(10)]}, "Without an insurance value"),
    ({"records": [{**record(k), "text": "word " * 101} for k in range(10)]}, "HL-01 says 101 words"),
    ({"records": [{**record(k), "place": {"where": "sold"}} for k in range(10)]}, "HL-01 is written down as sold"),
    ({"records": [{**record(k), "around": None} for k in range(10)]}, "Without a circumference"),
    ({"shown": [{"number": "HL-01"}]}, "Not in the show, though recorded: HL-02"),
    ({"shown": [{"number": "HL-01"}]}, "Not placed in a case yet: HL-01"),
]


@pytest.mark.parametrize(("rest", "said"), REMARKS, ids=[said[:25] for _, said in REMARKS])
def test_what_to_look_at_is_told(rest: dict[str, Any], said: str) -> None:
    assert any(said in sentence for sentence in remarks(show(**rest)))


def test_a_record_begins_with_what_the_design_knows_and_nothing_else() -> None:
    worked = workup(built(KIKU, BAND))
    begun = proposed(worked, "HL-01", "", "ball.json")
    assert begun.model_fields_set == {
        "number", "title", "design", "division", "threads", "hours", "hours_estimated",
    }  # fmt: skip
    assert begun.title == worked.build.design.name
    assert begun.division == "S8+obi"
    assert [thread.colour for thread in begun.threads] == ["navy", "white"]
    assert begun.hours_estimated
    assert begun.hours == pytest.approx(worked.estimate.hours.likely, abs=0.25)
    only_navy = proposed(workup(built(KIKU)), "HL-02", "Blue")
    assert [thread.colour for thread in only_navy.threads] == ["navy"]
    assert only_navy.title == "Blue"
