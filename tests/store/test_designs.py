"""Designs and revisions: nothing is lost, nothing wins in silence."""

import json
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from polestitch.errors import DesignError
from polestitch.store.designs import (
    Change,
    MissingError,
    add_design,
    change_card,
    copied,
    document,
    document_text,
    label_revision,
    note_wrong,
    revisions,
    saved,
)
from polestitch.store.shelf import Wanted, shelf
from polestitch.store.store import Store

Raw = dict[str, Any]


def test_a_document_comes_back_as_she_wrote_it(store: Store, lamp: Raw) -> None:
    raw = {**lamp, "a later version's word": [1, 2.5, None, "ä"], "layers": [{"technique": "not yet invented"}]}
    card = add_design(store, raw)
    assert document(store, card.id)[1] == raw
    assert list(document(store, card.id)[1]) == list(raw)


def test_every_change_is_a_revision_and_each_can_be_read_again(store: Store, lamp: Raw) -> None:
    card = add_design(store, lamp)
    for n in range(1, 5):
        assert saved(store, card.id, Change(n, {**lamp, "notes": str(n)}, "tab")).revision == n + 1
    assert [entry.revision for entry in revisions(store, card.id)] == [5, 4, 3, 2, 1]
    assert document(store, card.id, 3)[1]["notes"] == "2"
    assert document(store, card.id)[1]["notes"] == "4"


def test_the_same_document_again_is_no_new_revision(store: Store, lamp: Raw) -> None:
    card = add_design(store, lamp)
    assert saved(store, card.id, Change(1, lamp, "tab")).revision == 1


def test_going_back_to_an_old_document_keeps_its_text_once(store: Store, lamp: Raw) -> None:
    card = add_design(store, lamp)
    other = {**lamp, "notes": "other"}
    for n in range(1, 7):
        saved(store, card.id, Change(n, other if n % 2 else lamp, "tab"))
    with store.reading() as session:
        texts = session.connection().exec_driver_sql("SELECT count(*) FROM documents").scalar()
    assert (len(revisions(store, card.id)), texts) == (7, 2)


def test_a_change_on_an_old_version_is_kept_beside(store: Store, lamp: Raw) -> None:
    card = add_design(store, lamp)
    saved(store, card.id, Change(1, {**lamp, "notes": "first window"}, "one"))
    answer = saved(store, card.id, Change(1, {**lamp, "notes": "second window"}, "two"))
    assert answer.kept_as is not None
    assert answer.kept_as.name == "Lamp (other window)"
    assert document(store, card.id)[1]["notes"] == "first window"
    assert document(store, answer.kept_as.id)[1]["notes"] == "second window"


def test_a_parted_window_goes_on_in_its_own_design(store: Store, lamp: Raw) -> None:
    card = add_design(store, lamp)
    saved(store, card.id, Change(1, {**lamp, "notes": "one"}, "one"))
    first = saved(store, card.id, Change(1, {**lamp, "notes": "two"}, "two"))
    again = saved(store, card.id, Change(1, {**lamp, "notes": "two more"}, "two"))
    assert first.kept_as is not None
    assert again.kept_as is not None
    assert (again.kept_as.id, again.kept_as.revision) == (first.kept_as.id, 2)
    assert shelf(store, Wanted()).total == 2


def test_the_same_change_in_two_windows_is_no_quarrel(store: Store, lamp: Raw) -> None:
    card, change = add_design(store, lamp), {**lamp, "notes": "same"}
    saved(store, card.id, Change(1, change, "one"))
    assert saved(store, card.id, Change(1, change, "two")).kept_as is None


def test_a_window_whose_answer_was_lost_does_not_quarrel_with_itself(store: Store, lamp: Raw) -> None:
    card = add_design(store, lamp)
    saved(store, card.id, Change(1, {**lamp, "notes": "kept, but the answer was lost"}, "one"))
    answer = saved(store, card.id, Change(1, {**lamp, "notes": "next"}, "one"))
    assert (answer.revision, answer.kept_as) == (3, None)


def test_a_long_name_stays_a_name_beside(store: Store, lamp: Raw) -> None:
    raw = {**lamp, "name": "n" * 60}
    card = add_design(store, raw)
    saved(store, card.id, Change(1, {**raw, "notes": "one"}, "one"))
    answer = saved(store, card.id, Change(1, {**raw, "notes": "two"}, "two"))
    assert answer.kept_as is not None
    assert len(answer.kept_as.name) == 60
    assert answer.kept_as.wrong is None


def test_a_revision_can_be_named_and_copied(store: Store, lamp: Raw) -> None:
    card = add_design(store, lamp)
    saved(store, card.id, Change(1, {**lamp, "notes": "later"}, "one"))
    label_revision(store, card.id, 1, "  before the petals ")
    assert [entry.label for entry in revisions(store, card.id)] == [None, "before the petals"]
    assert copied(store, card.id, 1) == {**lamp, "name": "Lamp (copy)"}
    label_revision(store, card.id, 1, None)
    assert revisions(store, card.id)[-1].label is None


def test_what_is_wrong_stands_on_the_card_until_the_next_change(store: Store, lamp: Raw) -> None:
    card = add_design(store, {**lamp, "ball": {"around": "long"}})
    assert card.wrong is not None
    assert card.wrong[0] == "ball.around"
    saved(store, card.id, Change(1, lamp, "one"))
    note_wrong(store, card.id, 1, ("layers[0]", "comes too late"))
    assert document(store, card.id)[0].wrong is None
    note_wrong(store, card.id, 2, ("layers[0]", "cannot be made"))
    assert document(store, card.id)[0].wrong == ("layers[0]", "cannot be made")


@pytest.mark.parametrize("missing", [lambda s: document(s, "0" * 32), lambda s: revisions(s, "x")])
def test_what_is_not_there_is_said_to_be_missing(store: Store, missing: Any) -> None:
    with pytest.raises(MissingError):
        missing(store)


@pytest.mark.parametrize("value", [float("nan"), float("inf"), "\ud800", {"a": float("-inf")}])
def test_what_no_file_can_hold_is_refused(store: Store, lamp: Raw, value: object) -> None:
    with pytest.raises(DesignError):
        add_design(store, {**lamp, "notes": value})
    assert shelf(store, Wanted()).total == 0


def test_tags_are_tidied(store: Store, lamp: Raw) -> None:
    card = add_design(store, lamp, ("winter", " winter ", "", "two  words"))
    assert card.tags == ("two words", "winter")
    assert change_card(store, card.id, (), None).tags == ()


json_values = st.recursive(
    st.none()
    | st.booleans()
    | st.integers(-(10**15), 10**15)
    | st.floats(allow_nan=False, allow_infinity=False)
    | st.text(max_size=9),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=5), inner, max_size=3),
    max_leaves=9,
)


@given(st.dictionaries(st.text(max_size=9), json_values, max_size=5))
def test_any_document_is_text_that_reads_the_same(raw: Raw) -> None:
    assert json.loads(document_text(raw)) == raw
