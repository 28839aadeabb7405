"""The shelf: found by words and tags, put away and brought back."""

from datetime import timedelta
from typing import Any

import pytest

from polestitch.store.designs import add_design, change_card, document
from polestitch.store.shelf import Wanted, clear_away, is_empty, shelf
from polestitch.store.store import Store
from tests.store.conftest import Clock

Raw = dict[str, Any]


@pytest.fixture
def three(store: Store, lamp: Raw) -> list[str]:
    balls = [("Quay Lamps", "25 cm", ("winter", "gift")), ("Ebb 100%", "9 in", ("sea",)), ("örn", "40 cm", ())]
    return [add_design(store, {**lamp, "name": n, "ball": {"around": a}}, t).id for n, a, t in balls]


def names(store: Store, **wanted: Any) -> list[str]:
    return [card.name for card in shelf(store, Wanted(**wanted)).cards]


def test_newest_first_by_name_or_by_size(store: Store, three: list[str]) -> None:
    assert names(store) == ["örn", "Ebb 100%", "Quay Lamps"]
    assert names(store, sort="name") == ["Ebb 100%", "Quay Lamps", "örn"]
    assert names(store, sort="around") == ["Ebb 100%", "Quay Lamps", "örn"]


@pytest.mark.parametrize(
    ("words", "found"),
    [
        ("lamp", ["Quay Lamps"]),
        ("LAMPS quay", ["Quay Lamps"]),
        ("ÖRN", ["örn"]),
        ("%", ["Ebb 100%"]),
        ("_", []),
        ("sea", ["Ebb 100%"]),
        ("s8", ["örn", "Ebb 100%", "Quay Lamps"]),
        ("lamp sea", []),
    ],
)
def test_words_are_sought_in_name_division_and_tags(
    store: Store, three: list[str], words: str, found: list[str]
) -> None:
    assert names(store, search=words) == found


def test_one_tag_and_all_tags(store: Store, three: list[str]) -> None:
    assert names(store, tag="winter") == ["Quay Lamps"]
    assert shelf(store, Wanted()).tags == ("gift", "sea", "winter")


def test_a_stretch_of_the_shelf_tells_how_many_there_are(store: Store, three: list[str]) -> None:
    found = shelf(store, Wanted(start=1, count=1))
    assert ([card.name for card in found.cards], found.total) == (["Ebb 100%"], 3)


def test_put_away_is_hidden_and_comes_back(store: Store, three: list[str]) -> None:
    card = change_card(store, three[0], None, True)
    assert card.away_until is not None
    assert card.away_until[:10] == "2027-01-05"  # thirty days after 6 December
    assert "Quay Lamps" not in names(store)
    assert names(store, away=True) == ["Quay Lamps"]
    assert change_card(store, three[0], None, False).away_until is None
    assert "Quay Lamps" in names(store)


def test_it_goes_for_good_after_thirty_days_and_not_before(store: Store, three: list[str], clock: Clock) -> None:
    change_card(store, three[0], None, True)
    clock.time += timedelta(days=29, hours=23)
    assert clear_away(store) == 0
    change_card(store, three[0], None, True)  # putting it away again does not begin anew
    clock.time += timedelta(hours=2)
    assert clear_away(store) == 1
    assert names(store, away=True) == []
    assert document(store, three[1])[1]["name"] == "Ebb 100%"


def test_an_empty_shelf_is_empty_even_of_what_is_put_away(store: Store, lamp: Raw) -> None:
    assert is_empty(store)
    change_card(store, add_design(store, lamp).id, None, True)
    assert not is_empty(store)
