"""Backups: one a day, fourteen of them, and a way back that can itself be taken back."""

from datetime import timedelta
from pathlib import Path
from typing import Any

import pytest

from polestitch.errors import DesignError
from polestitch.store.backups import KEPT, backups, make_backup, make_daily_backup, restore
from polestitch.store.designs import Change, add_design, document, saved
from polestitch.store.shelf import Wanted, shelf
from polestitch.store.store import Store, opened
from tests.store.conftest import Clock

Raw = dict[str, Any]


def test_one_backup_a_day_and_the_newest_fourteen_stay(store: Store, clock: Clock) -> None:
    for _ in range(KEPT + 6):
        make_daily_backup(store)
        make_daily_backup(store)
        clock.time += timedelta(days=1)
    names = sorted(backup.name for backup in backups(store))
    assert len(names) == KEPT
    assert names[0] == "2026-12-12.db"
    assert names[-1] == "2026-12-25.db"


def test_turning_back_brings_everything_back_and_can_be_undone(store: Store, lamp: Raw) -> None:
    card = add_design(store, lamp)
    make_daily_backup(store)
    saved(store, card.id, Change(1, {**lamp, "notes": "later"}, "one"))
    add_design(store, {**lamp, "name": "Second"})
    before = restore(store, "2026-12-06.db")
    assert shelf(store, Wanted()).total == 1
    assert document(store, card.id)[1] == lamp
    restore(store, before)
    assert shelf(store, Wanted()).total == 2
    assert document(store, card.id)[1]["notes"] == "later"


def test_what_is_turned_back_is_on_the_disk(store: Store, lamp: Raw) -> None:
    make_daily_backup(store)
    add_design(store, lamp)
    restore(store, "2026-12-06.db")
    store.close()
    again = opened(store.folder)
    assert shelf(again, Wanted()).total == 0
    again.close()


def test_a_damaged_backup_is_refused_and_nothing_changes(store: Store, lamp: Raw) -> None:
    make_daily_backup(store)
    add_design(store, lamp)
    path = store.backups / "2026-12-06.db"
    path.write_bytes(path.read_bytes()[:5000])
    with pytest.raises(DesignError, match="damaged"):
        restore(store, "2026-12-06.db")
    assert shelf(store, Wanted()).total == 1


@pytest.mark.parametrize("name", ["../studio.db", "studio.db", "2026-12-07.db", "", "2026-12-06.db/../x", "..\\x.db"])
def test_no_other_file_is_taken_for_a_backup(store: Store, name: str) -> None:
    make_daily_backup(store)
    with pytest.raises(DesignError, match="no backup"):
        restore(store, name)


def test_two_backups_in_one_second_have_two_names(store: Store) -> None:
    assert len({make_backup(store, "before-restore") for _ in range(3)}) == 3


def test_a_stranger_in_the_folder_is_no_backup(store: Store, tmp_path: Path) -> None:
    assert backups(store) == ()
    make_daily_backup(store)
    (store.backups / "holiday.db").write_bytes(b"")
    assert [backup.name for backup in backups(store)] == ["2026-12-06.db"]


def test_a_backup_is_made_before_the_database_takes_a_new_shape(
    store: Store, lamp: Raw, monkeypatch: pytest.MonkeyPatch
) -> None:
    add_design(store, lamp)
    store.close()
    monkeypatch.setattr("polestitch.store.store.is_of_today", lambda _connection: False)
    again = opened(store.folder)
    assert [backup.name.partition("-before-")[2] for backup in backups(again)] == ["update.db"]
    assert shelf(again, Wanted()).total == 1
    again.close()
