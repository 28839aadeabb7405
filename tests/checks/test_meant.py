"""What the design says is meant: told as a note with its reason, and never silenced."""

import json
from typing import Any

import pytest

from polestitch.document.codec import read
from polestitch.errors import DesignError
from tests.builds import KIKU, SQUARE, THREADS, document
from tests.checks.found import built, of_kind, one_of

LONG: dict[str, Any] = {**KIKU, "rows": "20 navy"}
WHY = "the tips swim past the equator."


def test_an_overrun_that_is_meant_is_a_note_with_the_fact_and_the_reason() -> None:
    plain = one_of(built(LONG), "overrun")
    meant = one_of(built({**LONG, "meant": {"overrun": WHY}}), "overrun")
    assert (plain.severity, meant.severity) == ("care", "note")
    assert meant.sentence == f"{plain.sentence.split(':')[0]}. It is meant: {WHY}"
    assert "in the end by" in meant.sentence
    assert (meant.row, meant.address, meant.at) == (plain.row, plain.address, plain.at)
    assert meant.remedy is None


def test_it_holds_for_its_own_layer_and_kind_alone() -> None:
    other = {**LONG, "where": "S"}
    found = of_kind(built({**LONG, "meant": {"overrun": WHY}}, other), "overrun")
    assert sorted((finding.layer, finding.severity) for finding in found) == [(0, "note"), (1, "care")]
    assert one_of(built({**LONG, "meant": {"build-up": WHY}}), "overrun").severity == "care"


def test_what_must_be_changed_first_is_not_meant() -> None:
    star = {"technique": "star", "where": "N", "rows": "30 navy", "params": {"points": 5, "at": "3/4 from centre"}}
    assert one_of(built({**star, "meant": {"overrun": WHY}}, division="C10"), "overrun").severity == "stop"


def test_a_thread_in_the_colour_of_the_ground_may_be_meant() -> None:
    threads = [{**THREADS[0], "colour": "#858a94"}, THREADS[1]]
    why = "every second row dissolves into the ground."
    threads[0]["meant"] = {"low contrast": why}
    finding = one_of(built(SQUARE, threads=threads), "low contrast")
    assert (finding.severity, finding.address) == ("note", "navy")
    assert finding.sentence.endswith(f"It is meant: {why}")


def test_a_name_with_a_colon_stays_whole() -> None:
    named = {**LONG, "name": "April: cherry", "meant": {"overrun": WHY}}
    assert one_of(built(named), "overrun").sentence.startswith('"April: cherry" runs past the obi from row 17 on')


@pytest.mark.parametrize(
    ("meant", "where"), [({"overrunn": WHY}, "meant"), ({"thread short": WHY}, "meant"), ({"overrun": "so"}, "overrun")]
)
def test_only_known_kinds_with_a_reason_can_be_meant(meant: dict[str, str], where: str) -> None:
    with pytest.raises(DesignError, match=where):
        read(json.dumps({"format": 1, **document({**LONG, "meant": meant})}))
