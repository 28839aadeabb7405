"""Old formats: steps in order, tried with formats that never were."""

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from polestitch.document.design import FORMAT
from polestitch.document.upgrades import STEPS, upgraded
from polestitch.errors import DesignError

Raw = dict[str, Any]


def from_0(raw: Raw) -> Raw:
    """An invented format 0 called the name a title."""
    return {**{key: value for key, value in raw.items() if key != "title"}, "name": raw["title"]}


def from_1(raw: Raw) -> Raw:
    """An invented format 2 counts the letters of the name."""
    return {**raw, "letters": len(raw["name"])}


INVENTED = {0: from_0, 1: from_1}


def test_an_old_document_takes_every_step_in_order() -> None:
    new = upgraded({"format": 0, "title": "quay"}, INVENTED, newest=2)
    assert new == {"format": 2, "name": "quay", "letters": 4}


def test_a_document_of_today_is_left_alone() -> None:
    raw = {"format": 2, "name": "quay"}
    assert upgraded(raw, INVENTED, newest=2) is raw


def test_the_old_document_itself_is_not_changed() -> None:
    old = {"format": 0, "title": "quay"}
    upgraded(old, INVENTED, newest=2)
    assert old == {"format": 0, "title": "quay"}


@given(st.integers().filter(lambda version: version not in (0, 1, 2)))
def test_a_format_without_a_step_is_refused(version: int) -> None:
    with pytest.raises(DesignError, match=r"^format: "):
        upgraded({"format": version, "title": "q", "name": "q"}, INVENTED, newest=2)


def test_there_is_a_step_from_every_format_since_the_first() -> None:
    assert sorted(STEPS) == list(range(1, FORMAT))


@pytest.mark.parametrize("version", [FORMAT + 1, 10**30])
def test_a_newer_format_asks_for_a_newer_program(version: int) -> None:
    with pytest.raises(DesignError, match="update Polestitch"):
        upgraded({"format": version})
