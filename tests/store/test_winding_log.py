"""The winding log: kept, put away, carried by an archive once, and made in a database of the shape before."""

import io
import json
import sqlite3
import zipfile
from pathlib import Path
from typing import Any

import pytest
from alembic import command
from sqlalchemy import create_engine
from sqlalchemy.engine import URL

from polestitch.errors import DesignError
from polestitch.store import database
from polestitch.store.archive import take_archive, write_archive
from polestitch.store.database import APPLICATION_ID, is_of_today
from polestitch.store.designs import MissingError
from polestitch.store.store import Store, opened
from polestitch.store.winding_log import add_wound, put_wound_away, wound

YARN = {"material": "thick yarn", "before_mm": 180.0, "after_mm": 215.0, "grams": 31.5, "note": "harbour wool"}
HULLS = {"material": "hulls", "before_mm": 0.0, "after_mm": 180.0, "grams": 21.0}


def told(store: Store, away: bool = False) -> list[dict[str, Any]]:
    names = ("material", "before_mm", "after_mm", "grams", "note")
    return [{name: getattr(each, name) for name in names} for each in wound(store, away)]


def test_what_she_wound_is_kept_in_order_and_put_away_with_a_way_back(store: Store) -> None:
    _, yarn = add_wound(store, [HULLS, YARN])
    assert told(store) == [{**HULLS, "note": None}, YARN]
    assert put_wound_away(store, yarn.id, True).away
    assert told(store) == [{**HULLS, "note": None}]
    assert told(store, away=True) == [YARN]
    assert not put_wound_away(store, yarn.id, False).away
    assert len(told(store)) == 2
    with pytest.raises(MissingError):
        put_wound_away(store, "0" * 32, True)


def archived(store: Store) -> io.BytesIO:
    file = io.BytesIO()
    write_archive(store, file)
    file.seek(0)
    return file


def test_an_archive_carries_it_and_adds_it_once(store: Store, tmp_path: Path) -> None:
    add_wound(store, [HULLS])
    (yarn,) = add_wound(store, [YARN])
    put_wound_away(store, yarn.id, True)
    file, other = archived(store), opened(tmp_path / "other")
    for _ in range(2):
        file.seek(0)
        take_archive(other, file)
    assert wound(other) == wound(store)
    assert told(other, away=True) == [YARN]
    other.close()


def test_an_archive_without_a_log_has_no_file_for_it(store: Store) -> None:
    with zipfile.ZipFile(archived(store)) as archive:
        assert "winding.json" not in archive.namelist()


@pytest.mark.parametrize("change", [{"grams": -1}, {"after_mm": 99999}, {"colour": "red"}, {"id": "../x"}])
def test_a_log_that_cannot_be_is_refused_and_nothing_is_taken(
    store: Store, tmp_path: Path, change: dict[str, Any]
) -> None:
    from polestitch.store.blobs import sha_of

    add_wound(store, [YARN])
    changed = io.BytesIO()
    with zipfile.ZipFile(archived(store)) as old, zipfile.ZipFile(changed, "w") as new:
        (entry,) = json.loads(old.read("winding.json"))
        data = json.dumps([{**entry, **change}]).encode()
        index = json.loads(old.read("archive.json"))
        index["work"]["winding.json"] = [sha_of(data), len(data)]
        new.writestr("archive.json", json.dumps(index))
        new.writestr("winding.json", data)
    other = opened(tmp_path / "other")
    with pytest.raises(DesignError, match="cannot read"):
        take_archive(other, changed)
    assert wound(other) == ()
    other.close()


def test_a_database_of_the_shape_before_is_brought_up_to_date_and_a_copy_kept(tmp_path: Path) -> None:
    path = tmp_path / "studio.db"
    with sqlite3.connect(path) as raw:
        raw.execute(f"PRAGMA application_id={APPLICATION_ID}")
    raw.close()
    engine = create_engine(URL.create("sqlite", database=str(path)))
    with engine.begin() as connection:
        config = database._config()
        config.attributes["connection"] = connection
        command.upgrade(config, "0002")
        thread = "INSERT INTO threads (id, name, sought, fibre, size, colour, changed) VALUES (?, ?, ?, ?, ?, ?, ?)"
        connection.exec_driver_sql(thread, ("a" * 32, "Kelp", "kelp", "cotton", "pearl 5", "#1d4d3a", "2026-11-30"))
        assert not is_of_today(connection)
    engine.dispose()
    store = opened(tmp_path)
    add_wound(store, [YARN])
    assert told(store) == [YARN]
    with store.reading() as session:
        names = session.connection().exec_driver_sql("SELECT name FROM threads").scalars().all()
        assert names == ["Kelp"]
    (backup,) = store.backups.iterdir()
    assert backup.name.endswith("-before-update.db")
    store.close()
