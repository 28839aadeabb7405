"""The database file: refused when it is not ours or not whole, and then not one byte of it changes."""

import errno
import json
import os
import sqlite3
from pathlib import Path
from typing import Any

import pytest
from sqlalchemy.exc import OperationalError

from polestitch.errors import DesignError
from polestitch.store import files
from polestitch.store.blobs import blob, blob_path, kept_blob
from polestitch.store.database import APPLICATION_ID
from polestitch.store.designs import Change, add_design, document, revisions, saved
from polestitch.store.pictures import clear_pictures, keep_picture, known_picture, picture_key
from polestitch.store.store import Store, opened

Raw = dict[str, Any]


def refused(folder: Path) -> str:
    """The sentence, after making sure that nothing was touched."""
    before = {path: path.read_bytes() for path in folder.iterdir() if path.name != "studio.lock"}
    with pytest.raises(DesignError) as caught:
        opened(folder)
    assert {path: path.read_bytes() for path in folder.iterdir() if path.name != "studio.lock"} == before
    return caught.value.what


@pytest.fixture
def closed(tmp_path: Path, lamp: Raw) -> Path:
    store = opened(tmp_path)
    for n in range(40):
        add_design(store, {**lamp, "notes": f"{n} " * 200})
    store.close()
    return tmp_path


@pytest.mark.parametrize("length", [0, 1, 99, 100, 4096, 20000])
def test_a_torn_file_is_refused(closed: Path, length: int) -> None:
    os.truncate(closed / "studio.db", length)
    assert "damaged" in refused(closed)


def test_a_file_with_a_broken_page_is_refused(closed: Path) -> None:
    with (closed / "studio.db").open("r+b") as file:
        file.seek(8192)
        file.write(b"\xff" * 4096)
    assert "damaged" in refused(closed)


def test_the_database_of_another_program_is_refused(tmp_path: Path) -> None:
    with sqlite3.connect(tmp_path / "studio.db") as raw:
        raw.execute("CREATE TABLE designs (id)")
    raw.close()
    assert "another program" in refused(tmp_path)


@pytest.mark.parametrize("content", [b"", b"GIF89a" + b"\0" * 200, b"Ein Brief\n" * 50])
def test_a_file_that_is_no_database_is_refused(tmp_path: Path, content: bytes) -> None:
    (tmp_path / "studio.db").write_bytes(content)
    assert "damaged or no database" in refused(tmp_path)


def test_a_journal_without_its_database_is_refused(closed: Path) -> None:
    (closed / "studio.db").rename(closed / "studio.db-wal")
    assert "missing" in refused(closed)


def test_a_newer_database_is_refused(closed: Path) -> None:
    with sqlite3.connect(closed / "studio.db") as raw:
        raw.execute("UPDATE alembic_version SET version_num = '9999'")
    raw.close()
    assert "newer Polestitch" in refused(closed)


def test_a_new_folder_is_for_her_account_alone(tmp_path: Path) -> None:
    opened(tmp_path / "new").close()
    assert (tmp_path / "new").stat().st_mode & 0o077 == 0


def test_only_one_studio_works_in_a_folder(tmp_path: Path) -> None:
    store = opened(tmp_path)
    store.lock.note("http://127.0.0.1:8647/")
    with pytest.raises(DesignError, match=r"it is open at http://127\.0\.0\.1:8647/"):
        opened(tmp_path)
    store.close()
    opened(tmp_path).close()


def test_every_connection_keeps_its_word(store: Store) -> None:
    def told(pragma: str) -> object:
        with store.reading() as session:
            return session.connection().exec_driver_sql(f"PRAGMA {pragma}").scalar()

    # SQLite's documentation, from memory: synchronous 2 is FULL.
    kept = {name: told(name) for name in ("journal_mode", "synchronous", "foreign_keys", "application_id")}
    assert kept == {"journal_mode": "wal", "synchronous": 2, "foreign_keys": 1, "application_id": APPLICATION_ID}


def allow_pages(store: Store, most: int) -> None:
    """For the one connection the pool holds; it is handed out again and again."""
    with store.engine.connect() as connection:
        connection.exec_driver_sql(f"PRAGMA max_page_count = {most}")


def write_on(store: Store, design: str, lamp: Raw) -> None:
    for n in range(200):
        saved(store, design, Change(n + 1, {**lamp, "notes": f"{n} " * 3000}, "one"))


def test_a_full_disk_loses_nothing(store: Store, lamp: Raw) -> None:
    card = add_design(store, lamp)
    # SQLite itself says "full" when its file may not grow: the same as on a disk without room.
    allow_pages(store, 60)
    with pytest.raises(OperationalError, match="full"):
        write_on(store, card.id, lamp)
    kept = revisions(store, card.id)
    assert document(store, card.id)[1] == document(store, card.id, kept[0].revision)[1]
    allow_pages(store, 1_000_000)
    assert saved(store, card.id, Change(kept[0].revision, {**lamp, "notes": "room again"}, "one")).kept_as is None


def test_a_file_is_whole_or_not_there(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = tmp_path / "kept"
    files.write_whole(path, b"old")

    def full(_path: Path) -> None:
        raise OSError(errno.ENOSPC, "No space left on device")

    monkeypatch.setattr(files, "synced", full)
    with pytest.raises(OSError, match="No space"):
        files.write_whole(path, b"new")
    assert path.read_bytes() == b"old"
    assert list(tmp_path.iterdir()) == [path]


def test_what_a_killed_server_left_half_written_is_swept_away(closed: Path) -> None:
    (closed / "blobs").mkdir()
    (closed / "blobs" / ".abc.123.part").write_bytes(b"half")
    (closed / ".studio.db.123.part-journal").write_bytes(b"half")
    opened(closed).close()
    assert list(closed.rglob(".*.part*")) == []


def test_a_picture_is_remembered_until_its_file_is_damaged(store: Store) -> None:
    key = picture_key("3", 480, "N", "sha")
    assert known_picture(store, key) is None
    keep_picture(store, key, b"pixels")
    assert known_picture(store, key) == b"pixels"
    name = kept_blob(store.blobs, b"pixels")
    blob_path(store.blobs, name).write_bytes(b"pixelz")
    assert known_picture(store, key) is None


def test_pictures_go_when_they_take_too_much_room(store: Store) -> None:
    keep_picture(store, "a", b"12345")
    clear_pictures(store, 5)
    assert known_picture(store, "a") == b"12345"
    clear_pictures(store, 4)
    assert known_picture(store, "a") is None
    assert blob(store.blobs, kept_blob(store.blobs, b"x")) == b"x"


def test_every_column_of_the_tables_is_made_by_a_migration(store: Store) -> None:
    from alembic.autogenerate import compare_metadata
    from alembic.runtime.migration import MigrationContext

    from polestitch.store.tables import Table

    with store.engine.connect() as connection:
        assert compare_metadata(MigrationContext.configure(connection), Table.metadata) == []


def test_documents_are_plain_text_in_the_file(store: Store, lamp: Raw) -> None:
    card = add_design(store, lamp)
    raw = sqlite3.connect(store.database)
    text = raw.execute("SELECT text FROM documents JOIN designs ON document = sha WHERE id = ?", (card.id,)).fetchone()[
        0
    ]
    raw.close()
    assert json.loads(text) == lamp
